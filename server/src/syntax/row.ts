import type { IToken } from "chevrotain";
import { type Problem, problem, shiftProblem } from "../problems/problem.js";
import type { Span } from "../text/span.js";
import { balance } from "./balance.js";
import { type BarPiece, type Report, readBarLine } from "./bar-line.js";
import { cut } from "./cut.js";
import { type GroupNode, run, type SlotNode } from "./line-parser.js";
import { readSlot } from "./slot.js";
import type { SlotReading, Tools } from "./slot-reading.js";
import { isTextRow } from "./text-row.js";
import { readToneName } from "./tone-name.js";
import type {
  BarText,
  FromText,
  GroupSlot,
  LeafSlot,
  RowLine,
  RowName,
  Slot,
  SlotContent,
  WordsText,
} from "./tree.js";
import type { Vocabulary } from "./vocabulary.js";
import { WordsBar, wordSlots } from "./words-bar.js";

/** Readings of slot texts, one store for each kind of row. */
export interface SlotMemo {
  readonly chords: Map<string, SlotReading>;
  readonly notes: Map<string, SlotReading>;
}

/** What reading a row needs beside its pieces. */
export interface RowContext extends Tools {
  readonly slots: SlotMemo;
}

const unread: SlotContent = { kind: "unread" };
const hold: SlotContent = { kind: "hold" };
const endOf = (token: IToken): number => token.startOffset + token.image.length;

/** Reads the pieces of a row after its name. */
export function readRow(
  row: RowName,
  nameSpan: Span,
  tokens: readonly IToken[],
  lineEnd: number,
  context: RowContext,
): { statement: RowLine; problems: Problem[] } {
  const { types, parser } = context;
  const isWords = isTextRow(row);
  const isChords = row === "chords";
  const problems: Problem[] = [];
  const report: Report = (span, read, advice) => {
    problems.push(problem("syntax", span, { read, advice }, { row }));
  };

  let pieces = tokens;
  if (!isWords) {
    const balanced = balance(tokens, types, row);
    pieces = balanced.tokens;
    problems.push(...balanced.problems);
  }
  const input = pieces.some((token, i) => i > 0 && token.tokenType === types.pieces.from)
    ? pieces.map((token, i) => (i === 0 ? token : withoutFrom(token, types, report)))
    : pieces;
  const { node } = run(parser, parser.row, input);

  /** How many groups are open around a slot. */
  let depth = 0;
  const leaf = (token: IToken, into: Slot[]) => {
    const start = token.startOffset;
    const { tokenType, image } = token;
    if (tokenType === types.pieces.slashes) {
      for (let i = 0; i < image.length; i++) {
        into.push({ kind: "leaf", span: { start: start + i, end: start + i + 1 }, content: hold });
      }
      return;
    }
    if (tokenType === types.stray) {
      into.push({ kind: "leaf", span: { start, end: token.endOffset ?? endOf(token) }, content: unread });
      return;
    }
    const memo = context.slots[isChords ? "chords" : "notes"];
    let reading = memo.get(image);
    if (reading === undefined) {
      reading = readSlot(tokenType, image, isChords, context);
      memo.set(image, reading);
    }
    for (const it of reading.problems) {
      const placed = { ...shiftProblem(it, start), row };
      // A comment in a group would hide what closes it.
      problems.push(depth > 0 && reading.hidesRest ? { ...placed, fixes: [] } : placed);
    }
    const slot: LeafSlot = {
      kind: "leaf",
      span: { start, end: start + image.length },
      content: reading.content,
    };
    into.push(slot);
  };

  const group = ({ open, slots: nodes, close }: GroupNode, into: Slot[]) => {
    const signs = { start: open.startOffset, end: endOf(open) - 1 };
    const span = { start: open.startOffset, end: endOf(close) };
    const written = open.image.slice(0, -1);
    const astraySign = isChords ? written[0] : /[!~_]/.exec(written)?.[0];
    if (astraySign !== undefined) {
      const advice = isChords
        ? `“${astraySign}” has no meaning before a group of chords. Take it away.`
        : `“${astraySign}” stands before tones. Write it inside the group, before the tones that it is for.`;
      report(signs, written, advice);
    }
    const slots: Slot[] = [];
    depth++;
    for (const inner of nodes) place(inner, slots);
    depth--;
    if (slots.length === 0) {
      report(span, "()", "This group is empty. Write its slots, or take it away.");
      into.push({ kind: "leaf", span, content: unread });
      return;
    }
    const octaves = isChords
      ? 0
      : [...written].reduce((sum, it) => sum + (it === ">" ? 1 : it === "<" ? -1 : 0), 0);
    const slot: GroupSlot = { kind: "group", span, octaves, signs, slots };
    into.push(slot);
  };

  const place = (slot: SlotNode, into: Slot[]) => {
    if ("open" in slot) group(slot, into);
    else leaf(slot, into);
  };
  const slotsOf = (nodes: readonly SlotNode[], isPickup: boolean): Slot[] => {
    const slots: Slot[] = [];
    for (const it of nodes) place(it, slots);
    reportSameBar(slots, isPickup || slots.length > 1, report);
    // A copy has no room for more, which a list that has grown keeps: there are thousands of them.
    return slots.slice();
  };

  const before = node?.pickup ?? [];
  const pickup = isWords ? before.flatMap((it) => wordSlots(wordsOf(it))) : slotsOf(before, true);
  const bars: BarText[] = [];
  const lines = (node?.bars ?? []).map(({ line }) => readBarLine(line, report));
  (node?.bars ?? []).forEach(({ slots: nodes }, i) => {
    const { line: open, end: start, ending } = lines[i] as BarPiece;
    const close = lines[i + 1]?.line;
    const end = close?.span.start ?? lineEnd;
    if (close === undefined && nodes.length === 0 && ending === undefined) return;
    if (close !== undefined && end === start) {
      report(
        { start: open.span.start, end: close.span.end },
        "",
        "Nothing stands between these two bar lines. Put a space there for an empty bar, or write one bar line.",
      );
    }
    const span = { start, end };
    const [first] = nodes;
    if (isWords) bars.push(new WordsBar(span, open, close, ending, first && wordsOf(first)));
    else bars.push({ span, open, close, ending, slots: slotsOf(nodes, false), words: undefined });
  });
  if (lines.length === 0) {
    report(nameSpan, row, `This row has no bars. Put bar lines around them: ${row} | … | … |`);
  }
  const from = node?.from && readFrom(node.from, report);
  problems.sort((a, b) => a.span.start - b.span.start);
  return { statement: { kind: "row", row, nameSpan, from, pickup, bars: bars.slice() }, problems };
}

/** In a row of words nothing else stands between two bar lines. */
function wordsOf(node: SlotNode): WordsText {
  const { image: text, startOffset: start } = "open" in node ? node.open : node;
  return { text, start };
}

/** A `from` that stands anywhere but first is no home octave. */
function withoutFrom(token: IToken, types: Vocabulary, report: Report): IToken {
  if (token.tokenType !== types.pieces.from) return token;
  const advice = "“from” and its pitch stand right after the row's name.";
  report({ start: token.startOffset, end: endOf(token) }, token.image, advice);
  const { stray } = types;
  return { ...token, endOffset: endOf(token), tokenType: stray, tokenTypeIdx: stray.tokenTypeIdx as number };
}

/** `%` is a whole bar: one that shares it, or stands in a group or a pickup, is a mistake. */
function reportSameBar(slots: Slot[], isShared: boolean, report: Report): void {
  slots.forEach((slot, i) => {
    if (slot.kind === "group") reportSameBar(slot.slots as Slot[], true, report);
    else if (slot.content.kind === "sameBar" && isShared) {
      report(
        slot.span,
        "%",
        "“%” repeats the whole bar before, so it stands alone in its bar. Use = to repeat one slot.",
      );
      slots[i] = { ...slot, content: unread };
    }
  });
}

function readFrom(token: IToken, report: Report): FromText | undefined {
  const span = { start: token.startOffset, end: endOf(token) };
  const pitch = cut("from", token.image).find(({ name }) => name === "pitch");
  const name = pitch && readToneName(pitch.text);
  if (pitch === undefined || name?.kind !== "pitch" || name.octave === undefined) {
    report(span, token.image, "“from” needs a pitch with its octave, such as from C4.");
    return undefined;
  }
  const start = token.startOffset + pitch.start;
  return {
    pitch: { fifths: name.fifths, octave: name.octave, span: { start, end: start + pitch.text.length } },
    span,
  };
}
