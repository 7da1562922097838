import type { Line } from "../syntax/tree.js";
import { columnsOf, padTo } from "../text/columns.js";
import { trimEnd, valueColumn, withComment } from "./line-parts.js";
import { type Cell, type RowText, readRow } from "./row-text.js";
import { inColumns, type Laid, type Placed, type PlacedText } from "./slot-columns.js";
import { type SungNote, type SungNotes, sungNotes } from "./sung-notes.js";

/** The last layout of a system, by its first line: equal lines are one object. */
const known = new WeakMap<
  Line,
  { readonly lines: readonly Line[]; readonly texts: readonly string[] | undefined }
>();

/** The rows of a system lined up, one text each; `undefined` where the tree doesn't account for all of them. */
export function layOutRows(lines: readonly Line[]): readonly string[] | undefined {
  const first = lines[0];
  if (first === undefined) return [];
  const before = known.get(first);
  if (before?.lines.length === lines.length && lines.every((line, i) => line === before.lines[i]))
    return before.texts;
  const rows = lines.map(readRow);
  const texts = rows.every((row) => row !== undefined) ? joinRows(rows, sungIn(lines, rows)) : undefined;
  known.set(first, { lines, texts });
  return texts;
}

/** What the system's `words` stand under; nothing is looked for where there are none. */
function sungIn(lines: readonly Line[], rows: readonly RowText[]): SungNotes | undefined {
  if (!rows.some(({ row }) => row === "words")) return undefined;
  const lead = rows.findIndex(({ row }) => row === "lead");
  return lead < 0 ? undefined : sungNotes(lines[lead] as Line);
}

function joinRows(rows: readonly RowText[], sung: SungNotes | undefined): string[] {
  const heads = layOutHeads(rows, sung);
  const parts = rows.map((_, i) => [heads[i] as string]);
  const count = Math.max(...rows.map(({ barLines, cells }) => Math.max(barLines.length, cells.length)));
  for (let k = 0; k < count; k++) {
    const barLines = alignBarLines(rows.map((row) => row.barLines[k]));
    const slots = inColumns(placeBar(rows, k, sung));
    const cells = alignCells(
      rows.map((row) => row.cells[k]),
      slots,
    );
    rows.forEach((_, i) => {
      const barLine = barLines[i];
      const cell = cells[i];
      if (barLine !== undefined) parts[i]?.push(barLine);
      if (cell !== undefined) parts[i]?.push(cell === "" ? " " : ` ${cell} `);
    });
  }
  return rows.map(({ comment }, i) => withComment(trimEnd((parts[i] as string[]).join("")), comment));
}

/** Names, `from` and pickups, so that all first bar lines stand below each other. */
function layOutHeads(rows: readonly RowText[], sung: SungNotes | undefined): string[] {
  const froms = widest(rows.map(({ from }) => from));
  const pickups = inColumns(placePickups(rows, sung));
  const width = widestOf(pickups);
  return rows.map(({ name, from }, i) => {
    const head = padTo(`${name} `, valueColumn) + (froms === 0 ? "" : `${padTo(from, froms)} `);
    return width === 0 ? head : `${head}${padded(pickups[i] as Laid, width)} `;
  });
}

const widest = (texts: readonly string[]): number =>
  texts.reduce((most, text) => Math.max(most, columnsOf(text)), 0);

const nothing: Placed = { items: [], parts: 1 };

/** What the rows write in a bar: their slots, and syllables under the notes that they are sung on. */
function placeBar(rows: readonly RowText[], bar: number, sung: SungNotes | undefined): readonly Placed[] {
  const notes = sung?.bars[bar] ?? [];
  return rows.map(({ row, cells }) => {
    const slots = cells[bar]?.slots ?? nothing;
    if (row !== "words" || notes.length === 0) return slots;
    const lead = rows.find(({ row }) => row === "lead")?.cells[bar]?.slots ?? nothing;
    return { items: underNotes(slots.items, notes), parts: lead.parts };
  });
}

/** What stands before the first bar line. */
function placePickups(rows: readonly RowText[], sung: SungNotes | undefined): readonly Placed[] {
  const notes = sung?.pickup ?? [];
  return rows.map(({ row, pickup }) =>
    row === "words" && notes.length > 0 ? { items: underNotes(pickup.items, notes), parts: 1 } : pickup,
  );
}

/** Each word under the note of its first syllable; those that are too many follow the last. */
function underNotes(words: readonly PlacedText[], notes: readonly SungNote[]): readonly PlacedText[] {
  let sung = 0;
  return words.map((word) => {
    const syllables = word.text.match(/_|[^-_]+/gu)?.length ?? 0;
    // A hyphen alone belongs to the syllable before it.
    const first = Math.max(0, syllables === 0 ? sung - 1 : sung);
    sung += syllables;
    return { ...word, ...(notes[Math.min(first, notes.length - 1)] as SungNote) };
  });
}

/** Bar lines of one column with their strokes below each other; `undefined` where a row has none. */
function alignBarLines(barLines: readonly (string | undefined)[]): (string | undefined)[] {
  const stroke = (text: string): number => Math.max(0, text.indexOf("|"));
  const before = barLines.reduce((most, text) => Math.max(most, stroke(text ?? "")), 0);
  const after = barLines.reduce((most, text = "") => Math.max(most, text.length - stroke(text)), 0);
  return barLines.map((text) =>
    text === undefined ? undefined : (" ".repeat(before - stroke(text)) + text).padEnd(before + after),
  );
}

/** The cells of one bar, equally wide, with what its rows write in it; `undefined` where a row has none. */
function alignCells(cells: readonly (Cell | undefined)[], slots: readonly Laid[]): (string | undefined)[] {
  const endings = widest(cells.map((cell) => cell?.ending ?? ""));
  const width = widestOf(slots);
  return cells.map((cell, i) => {
    if (cell === undefined) return undefined;
    const text = padded(slots[i] as Laid, width);
    return endings === 0 ? text : `${padTo(cell.ending, endings)}${width === 0 ? "" : ` ${text}`}`;
  });
}

const widestOf = (laid: readonly Laid[]): number =>
  laid.reduce((most, { width }) => Math.max(most, width), 0);

const padded = ({ text, width }: Laid, columns: number): string => text + " ".repeat(columns - width);
