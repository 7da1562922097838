import type { Line, RowLine, Slot } from "../syntax/tree.js";
import { columnsOf, padTo } from "../text/columns.js";
import { type Span, sliceOf } from "../text/span.js";
import { oneSpace, partComment, trimEnd, valueColumn, withComment } from "./line-parts.js";

/** In these rows a bar holds words, which are not lined up with the slots of other rows. */
const wordRows: ReadonlySet<string> = new Set(["words", "cue"]);

/** A row cut at its bar lines. */
interface RowText {
  readonly name: string;
  readonly from: string;
  readonly pickup: readonly string[];
  /** One more than cells where the last bar is closed. */
  readonly barLines: readonly string[];
  readonly cells: readonly Cell[];
  readonly comment: string;
}

interface Cell {
  readonly ending: string;
  readonly slots: readonly string[];
  /** Whether its slots are lined up with those of other rows. */
  readonly aligned: boolean;
}

/** Equal lines are one object, and a chart repeats them. */
const knownRows = new WeakMap<Line, { readonly row: RowText | undefined }>();

/** `undefined` where something stands in the row that the tree doesn't account for. */
function readRow(line: Line): RowText | undefined {
  const before = knownRows.get(line);
  if (before !== undefined) return before.row;
  const row = cutRow(line);
  knownRows.set(line, { row });
  return row;
}

function cutRow(line: Line): RowText | undefined {
  const row = line.statement as RowLine;
  const { said, comment } = partComment(line);
  const aligned = !wordRows.has(row.row);
  const barLines = barLinesOf(row, said);
  const firstBar = barLines[0]?.start ?? said.length;
  const pickup = slotTexts(
    said,
    { start: row.from?.span.end ?? row.nameSpan.end, end: firstBar },
    row.pickup,
  );
  if (pickup === undefined) return undefined;
  const cells: Cell[] = [];
  for (let i = 0; i < row.bars.length; i++) {
    const { ending, slots } = row.bars[i] as RowLine["bars"][number];
    const start = ending?.span.end ?? barLines[i]?.end ?? 0;
    const inside = { start, end: barLines[i + 1]?.start ?? said.length };
    const texts = row.row === "cue" ? cueText(said, inside) : slotTexts(said, inside, slots);
    if (texts === undefined) return undefined;
    cells.push({ ending: ending === undefined ? "" : sliceOf(said, ending.span), slots: texts, aligned });
  }
  const last = barLines.at(-1);
  if (last !== undefined && barLines.length > cells.length && trimEnd(said.slice(last.end)) !== "")
    return undefined;
  return {
    name: sliceOf(said, row.nameSpan),
    from: row.from === undefined ? "" : oneSpace(sliceOf(said, row.from.span)),
    pickup,
    barLines: barLines.map((span) => oneSpace(sliceOf(said, span))),
    cells,
    comment,
  };
}

/** Every bar line with the `x3` after it; where two meet without a bar between them they are one. */
function barLinesOf(row: RowLine, said: string): Span[] {
  const spans: Span[] = [];
  row.bars.forEach(({ open, close }, i) => {
    if (i === 0) spans.push({ start: open.span.start, end: open.timesSpan?.end ?? open.span.end });
    else if (spans[i] !== undefined)
      spans[i] = { start: (spans[i] as Span).start, end: Math.max((spans[i] as Span).end, open.span.end) };
    if (close !== undefined)
      spans.push({ start: close.span.start, end: close.timesSpan?.end ?? close.span.end });
  });
  return spans.filter(({ start, end }) => start < end && end <= said.length);
}

/** The texts of the slots of a bar or pickup; those that touch are one. */
function slotTexts(said: string, inside: Span, slots: readonly Slot[]): string[] | undefined {
  const texts: string[] = [];
  let at = inside.start;
  for (const slot of slots) {
    const gap = said.slice(at, slot.span.start);
    if (trimEnd(gap) !== "") return undefined;
    const text = slotText(said, slot);
    if (gap === "" && texts.length > 0) texts.push(texts.pop() + text);
    else texts.push(text);
    at = slot.span.end;
  }
  return trimEnd(said.slice(at, inside.end)) === "" ? texts : undefined;
}

/** What a cue prints, with the spaces that it has. */
function cueText(said: string, inside: Span): string[] {
  const text = sliceOf(said, inside).replace(/^[ \t]+|[ \t]+$/g, "");
  return text === "" ? [] : [text];
}

/** A group with single spaces between its slots; any other slot as it is. */
function slotText(said: string, slot: Slot): string {
  if (slot.kind === "leaf") return sliceOf(said, slot.span);
  let text = "";
  let at = slot.span.start;
  for (const inner of slot.slots) {
    text += oneSpace(said.slice(at, inner.span.start)) + slotText(said, inner);
    at = inner.span.end;
  }
  return text + oneSpace(said.slice(at, slot.span.end));
}

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
  const texts = rows.every((row) => row !== undefined) ? joinRows(rows) : undefined;
  known.set(first, { lines, texts });
  return texts;
}

function joinRows(rows: readonly RowText[]): string[] {
  const heads = layOutHeads(rows);
  const parts = rows.map((_, i) => [heads[i] as string]);
  const count = Math.max(...rows.map(({ barLines, cells }) => Math.max(barLines.length, cells.length)));
  for (let k = 0; k < count; k++) {
    const barLines = alignBarLines(rows.map((row) => row.barLines[k]));
    const cells = alignCells(rows.map((row) => row.cells[k]));
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
function layOutHeads(rows: readonly RowText[]): string[] {
  const froms = widest(rows.map(({ from }) => from));
  const pickups = columnsFromEnd(rows.map(({ pickup }) => pickup));
  return rows.map(({ name, from }, i) => {
    const head = padTo(`${name} `, valueColumn) + (froms === 0 ? "" : `${padTo(from, froms)} `);
    return pickups[i] === undefined ? head : `${head}${pickups[i]} `;
  });
}

const widest = (texts: readonly string[]): number =>
  texts.reduce((most, text) => Math.max(most, columnsOf(text)), 0);

/** Pickups end together on the bar line, so they are lined up from their ends. */
function columnsFromEnd(lists: readonly (readonly string[])[]): (string | undefined)[] {
  const count = Math.max(...lists.map(({ length }) => length));
  if (count === 0) return lists.map(() => undefined);
  const widths = Array.from({ length: count }, (_, back) =>
    widest(lists.map((list) => list.at(-1 - back) ?? "")),
  );
  return lists.map((list) =>
    widths
      .map((width, back) => padTo(list.at(-1 - back) ?? "", width))
      .reverse()
      .join(" "),
  );
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

/** The cells of one bar, equally wide; `undefined` where a row has none. */
function alignCells(cells: readonly (Cell | undefined)[]): (string | undefined)[] {
  const endings = widest(cells.map((cell) => cell?.ending ?? ""));
  const widths = new Map<number, number[]>();
  for (const cell of cells) {
    if (cell === undefined || !cell.aligned) continue;
    const before = widths.get(cell.slots.length);
    widths.set(
      cell.slots.length,
      cell.slots.map((slot, i) => Math.max(before?.[i] ?? 0, columnsOf(slot))),
    );
  }
  const texts = cells.map((cell) => {
    if (cell === undefined) return undefined;
    const columns = cell.aligned ? (widths.get(cell.slots.length) ?? []) : [];
    const slots = cell.slots.map((slot, i) => padTo(slot, columns[i] ?? 0)).join(" ");
    return trimEnd(endings === 0 ? slots : `${padTo(cell.ending, endings)} ${slots}`);
  });
  const width = widest(texts.map((text) => text ?? ""));
  return texts.map((text) => (text === undefined ? undefined : padTo(text, width)));
}
