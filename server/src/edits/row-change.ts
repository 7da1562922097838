import type { PlacedSection, System, SystemRow } from "../chart/model.js";
import { parse } from "../syntax/parse.js";
import type { BarText, Line, RowName } from "../syntax/tree.js";
import { applyEdits, type Edit } from "../text/edits.js";
import { indexAt } from "../text/lines.js";
import { type Span, shift, sliceOf } from "../text/span.js";
import { isStraight } from "./in-line.js";
import { bodyOf, partComment, valueColumn, withComment } from "./line-parts.js";
import { respace } from "./respace.js";
import { layOutRows } from "./row-layout.js";
import { type Voiced, withVoiced } from "./voiced-rows.js";

/** What becomes of one row of a system, or what is written in a row that it hasn't yet. */
export interface RowChange {
  readonly row: "right" | "left";
  /** The slots of bars that are written whole, by their index in the section. */
  readonly bars: ReadonlyMap<number, string>;
  readonly pickup: string | undefined;
  /** Slots that others take the place of; spans count from the section's start. */
  readonly slots: readonly Edit[];
  /** Said in the comment at its end. */
  readonly voiced: Voiced | undefined;
}

/** Rows from above to below, as charts have them. */
const rowOrder: readonly RowName[] = ["chords", "lead", "right", "left", "bass", "words", "cue"];

/** The edits of the chart that change rows of a system or add them (as lines that end so), lined up with the others where those stand in line. */
export function rowEdits(
  { section, offset }: PlacedSection,
  system: System,
  changes: readonly RowChange[],
  lineEnd: string,
): readonly Edit[] {
  const { lines, starts, text } = section.source;
  const rows: Written[] = system.rows.map((it) => {
    const index = indexAt(starts, it.start);
    const change = changes.find(({ row }) => row === it.row);
    const line = lines[index] as Line;
    const changed = change === undefined ? line : lineOf(changedRow(line, it, change, system.firstBar));
    return { row: it.row, line: changed, before: line, start: it.start };
  });
  const wasInLine = isStraight(rows.map(({ line, before }) => before ?? line));
  for (const change of changes) {
    if (rows.some(({ row }) => row === change.row)) continue;
    const line = lineOf(newRow(system, change, text));
    const below = rows.findLastIndex(({ row }) => rowOrder.indexOf(row) < rowOrder.indexOf(change.row));
    rows.splice(below + 1, 0, { row: change.row, line, before: undefined, start: 0 });
  }
  const laid = layOutRows(rows.map(({ line }) => line)) ?? rows.map(({ line }) => bodyOf(line));
  const edits: Edit[] = [];
  rows.forEach(({ line, before, start }, i) => {
    const now = before !== undefined && !wasInLine ? bodyOf(line) : (laid[i] as string);
    if (before === undefined) edits.push(added(rows, i, now, lineEnd));
    else if (line === before) respace(bodyOf(before), now, start, edits);
    else edits.push({ span: shift({ start: 0, end: bodyOf(before).length }, start), text: now });
  });
  return edits.map(({ span, text }) => ({ span: shift(span, offset), text }));
}

interface Written {
  readonly row: RowName;
  readonly line: Line;
  /** `undefined` for a row that is added. */
  readonly before: Line | undefined;
  readonly start: number;
}

const lineOf = (text: string): Line => parse(text).lines[0] as Line;

/** A row that is added goes behind the one above it, or before the first. */
function added(rows: readonly Written[], index: number, body: string, lineEnd: string): Edit {
  const above = rows.slice(0, index).findLast(({ before }) => before !== undefined);
  const near = above ?? (rows.find(({ before }) => before !== undefined) as Written);
  const whole = (near.before as Line).text;
  const end = /\r?\n$/.exec(whole)?.[0];
  if (above === undefined)
    return { span: { start: near.start, end: near.start }, text: body + (end ?? lineEnd) };
  const at = near.start + whole.length;
  return { span: { start: at, end: at }, text: end === undefined ? lineEnd + body : body + end };
}

function changedRow(
  line: Line,
  { line: row, start }: SystemRow,
  { bars, pickup, slots, voiced }: RowChange,
  firstBar: number,
): string {
  const { said, comment } = partComment(line);
  const edits: Edit[] = slots.map(({ span, text }) => ({ span: shift(span, -start), text }));
  row.bars.forEach((bar, i) => {
    const text = bars.get(firstBar + i);
    if (text !== undefined) edits.push({ span: insideOf(bar, said), text: ` ${text} ` });
  });
  const first = row.bars[0];
  if (pickup !== undefined && first !== undefined) {
    const from = row.from?.span.end ?? row.nameSpan.end;
    edits.push({ span: { start: from, end: first.open.span.start }, text: ` ${pickup} ` });
  }
  const now = applyEdits(said, edits);
  return withComment(now, voiced === undefined ? comment : withVoiced(comment, voiced));
}

/** Between a bar's lines, behind its ending. */
const insideOf = ({ ending, span }: BarText, said: string): Span => ({
  start: ending?.span.end ?? span.start,
  end: Math.min(span.end, said.length),
});

/** A row with the bar lines of the system's first. */
function newRow(system: System, { row, bars, pickup, voiced }: RowChange, text: string): string {
  const top = system.rows[0] as SystemRow;
  let written = `${row} `.padEnd(valueColumn) + (pickup === undefined ? "" : `${pickup} `);
  for (let i = 0; i < system.endBar - system.firstBar; i++) {
    const there = top.line.bars[i];
    if (i === 0) written += there?.open.starts === true ? "|:" : "|";
    const ending =
      there?.ending === undefined ? "" : `${sliceOf(text, shift(there.ending.span, top.start))} `;
    written += `${ending === "" ? " " : ending}${bars.get(system.firstBar + i) ?? ""} ${closing(top.line.bars, i)}`;
  }
  return withComment(written, voiced === undefined ? "" : withVoiced("", voiced));
}

/** The line between a bar and the next, with its signs. */
function closing(bars: readonly BarText[], i: number): string {
  const close = bars[i]?.close;
  const next = bars[i + 1]?.open;
  const stroke = close?.double === true ? "||" : "|";
  return `${close?.ends === true ? ":" : ""}${stroke}${next?.starts === true ? ":" : ""}`;
}
