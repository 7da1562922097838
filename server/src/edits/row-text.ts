import type { Line, RowLine, Slot } from "../syntax/tree.js";
import { columnsOf } from "../text/columns.js";
import { type Span, sliceOf } from "../text/span.js";
import { oneSpace, partComment, trimEnd } from "./line-parts.js";
import type { Placed, PlacedText } from "./slot-columns.js";

/** A row cut at its bar lines. */
export interface RowText {
  readonly row: RowLine["row"];
  readonly name: string;
  readonly from: string;
  /** Its times count back from the first bar line. */
  readonly pickup: Placed;
  /** One more than cells where the last bar is closed. */
  readonly barLines: readonly string[];
  readonly cells: readonly Cell[];
  readonly comment: string;
}

export interface Cell {
  readonly ending: string;
  readonly slots: Placed;
}

/** Equal lines are one object, and a chart repeats them. */
const known = new WeakMap<Line, { readonly row: RowText | undefined }>();

/** `undefined` where something stands in the row that the tree doesn't account for. */
export function readRow(line: Line): RowText | undefined {
  const before = known.get(line);
  if (before !== undefined) return before.row;
  const row = cutRow(line);
  known.set(line, { row });
  return row;
}

function cutRow(line: Line): RowText | undefined {
  const row = line.statement as RowLine;
  const { said, comment } = partComment(line);
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
    cells.push({
      ending: ending === undefined ? "" : sliceOf(said, ending.span),
      slots: row.row === "words" ? fromStart(texts) : texts,
    });
  }
  const last = barLines.at(-1);
  if (last !== undefined && barLines.length > cells.length && trimEnd(said.slice(last.end)) !== "")
    return undefined;
  return {
    row: row.row,
    name: sliceOf(said, row.nameSpan),
    from: row.from === undefined ? "" : oneSpace(sliceOf(said, row.from.span)),
    pickup: fromEnd(pickup, row.pickup.length),
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

/** The texts of a bar's or a pickup's slots; those that touch are one. */
function slotTexts(said: string, inside: Span, slots: readonly Slot[]): Placed | undefined {
  const texts: { text: string; at: number }[] = [];
  let at = inside.start;
  for (let i = 0; i < slots.length; i++) {
    const slot = slots[i] as Slot;
    const gap = said.slice(at, slot.span.start);
    if (trimEnd(gap) !== "") return undefined;
    const text = slotText(said, slot);
    const last = texts[texts.length - 1];
    if (gap === "" && last !== undefined) last.text += text;
    else texts.push({ text, at: i });
    at = slot.span.end;
  }
  if (trimEnd(said.slice(at, inside.end)) !== "") return undefined;
  return { items: texts.map(({ text, at }) => textAt(text, at)), parts: Math.max(1, slots.length) };
}

const textAt = (text: string, at: number): PlacedText => ({ text, width: columnsOf(text), at, inside: 0 });

/** Words that have no time of their own stand from the bar's start. */
const fromStart = ({ items }: Placed): Placed => ({ items: items.map((it) => ({ ...it, at: 0 })), parts: 1 });

/** Each slot of a pickup is one beat. */
const fromEnd = ({ items }: Placed, count: number): Placed => ({
  items: items.map((it) => ({ ...it, at: it.at - count })),
  parts: 1,
});

/** What a cue prints, with the spaces that it has. */
function cueText(said: string, inside: Span): Placed {
  const text = sliceOf(said, inside).replace(/^[ \t]+|[ \t]+$/g, "");
  return { items: text === "" ? [] : [textAt(text, 0)], parts: 1 };
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
