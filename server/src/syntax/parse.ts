import { problem } from "../problems/problem.js";
import { indexAt, lineStarts, splitLines } from "../text/lines.js";
import { LineParser } from "./line-parser.js";
import type { RowContext, SlotMemo } from "./row.js";
import type { SlotReading } from "./slot-reading.js";
import { type LineReading, readStatement } from "./statement.js";
import { isTextRow } from "./text-row.js";
import { bodyLength, longestLine, tokensOf } from "./tokens-of.js";
import type { Line, Slot, Token, Tree } from "./tree.js";
import { vocabulary } from "./vocabulary.js";

let madeParser: LineParser | undefined;
const lineParser = (): LineParser => {
  madeParser ??= new LineParser(vocabulary(), false);
  return madeParser;
};

/** A line finds its tokens when it is asked: few lines ever are, and together they are most of a tree's weight. */
class ParsedLine implements Line {
  readonly text: string;
  readonly statement: Line["statement"];
  readonly problems: Line["problems"];

  constructor(text: string, { statement, problems }: LineReading) {
    this.text = text;
    this.statement = statement;
    this.problems = problems;
  }

  get tokens(): readonly Token[] {
    return tokensOf(this.text, vocabulary());
  }
}

/** What was read once, by its text. Handed on from a tree to the next, and cut down to what is in use. */
interface Memo {
  lines: Map<string, Line>;
  slots: SlotMemo;
  /** At this many lines or slot texts the memo is cut down. */
  limit: number;
}

const memos = new WeakMap<Tree, Memo>();
const leastLimit = 1024;

const emptySlots = (): SlotMemo => ({ chords: new Map(), notes: new Map() });

const contextOf = ({ slots }: Memo): RowContext => ({ types: vocabulary(), parser: lineParser(), slots });

function readLine(text: string, context: RowContext): Line {
  const end = bodyLength(text);
  if (end > longestLine) {
    const advice = `This line has more than ${longestLine} characters and is not read. Break it into lines.`;
    const read = `${text.slice(0, 20)}…`;
    return new ParsedLine(text, {
      statement: { kind: "unread" },
      problems: [problem("syntax", { start: 0, end }, { read, advice })],
    });
  }
  const body = text.slice(0, end);
  const { tokens } = context.types.lineLexer.tokenize(body);
  return new ParsedLine(text, readStatement(body, tokens, end, context));
}

/** The line of this text, read now where it is new; `keep` makes the text one that holds no other in memory. */
function lineOf(text: string, memo: Memo, context: RowContext, keep: (text: string) => string): Line {
  const known = memo.lines.get(text);
  if (known !== undefined) return known;
  const kept = keep(text);
  const line = readLine(kept, context);
  memo.lines.set(kept, line);
  return line;
}

/** A part of a longer text keeps the whole in memory; this one does not. */
const apart = (text: string): string =>
  text.length < 13 ? text : (JSON.parse(JSON.stringify(text)) as string);
const asItIs = (text: string): string => text;

/** Reads a chart. Whatever the text is, there is a tree that prints to it. */
export function parse(text: string): Tree {
  const memo: Memo = { lines: new Map(), slots: emptySlots(), limit: leastLimit };
  const context = contextOf(memo);
  const texts = splitLines(text);
  const lines = texts.map((line) => lineOf(line, memo, context, asItIs));
  const tree: Tree = { text, lines, starts: lineStarts(texts) };
  memo.limit = Math.max(leastLimit, 2 * sizeOf(memo));
  memos.set(tree, memo);
  return tree;
}

/** What the lines of a tree know, where they were put together from others. */
const memoOf = ({ lines }: Tree): Memo => ({
  lines: new Map(lines.map((line) => [line.text, line])),
  slots: emptySlots(),
  limit: Math.max(leastLimit, 2 * lines.length),
});

/**
 * The same tree as `parse(text)` gives, made from that of an earlier text: lines that stay are taken over, and those
 * that were known before are found by their text.
 */
export function reparse(previous: Tree, text: string): Tree {
  if (text === previous.text) return previous;
  const memo = memos.get(previous) ?? memoOf(previous);
  const { first, after, from, to, shift } = changedLines(previous, text);
  const context = contextOf(memo);
  const middle =
    from === to && (first > 0 || after < previous.lines.length) ? [] : splitLines(text.slice(from, to));
  const lines = previous.lines.slice(0, first).concat(
    middle.map((line) => lineOf(line, memo, context, apart)),
    previous.lines.slice(after),
  );
  const later = previous.starts.slice(after);
  if (shift !== 0) for (let i = 0; i < later.length; i++) later[i] = (later[i] as number) + shift;
  const starts = previous.starts.slice(0, first).concat(
    lineStarts(middle).map((start) => from + start),
    later,
  );
  const tree: Tree = { text, lines, starts };
  if (sizeOf(memo) > memo.limit) cutDown(memo, lines);
  memos.set(tree, memo);
  return tree;
}

interface ChangedLines {
  /** The lines before this one stay. */
  readonly first: number;
  /** The lines from this one on stay. */
  readonly after: number;
  /** The part of the new text that is to be cut into lines anew. */
  readonly from: number;
  readonly to: number;
  /** By how much the lines after it move. */
  readonly shift: number;
}

/**
 * A line stays where its text and the character after it are common to both texts: a CR alone ends a line, before
 * a LF it doesn't.
 */
function changedLines({ text: old, lines, starts }: Tree, text: string): ChangedLines {
  const shift = text.length - old.length;
  const prefix = commonPrefix(old, text);
  const suffix = commonSuffix(old, text, Math.min(old.length, text.length) - prefix);
  const first = indexAt(starts, Math.max(0, prefix - 1));
  const from = starts[first] ?? 0;
  const common = old.length - suffix;
  // The first line that starts after a character of the common end.
  let after = Math.max(first + 1, indexAt(starts, common) + 1);
  if (after > lines.length) after = lines.length;
  const to = after < lines.length ? (starts[after] as number) + shift : text.length;
  return { first, after, from, to, shift };
}

/** Compared by blocks, since an engine compares strings much faster than a loop does. */
const blocks = [32_768, 1024];

function commonPrefix(a: string, b: string): number {
  const most = Math.min(a.length, b.length);
  let at = 0;
  for (const block of blocks) {
    while (at + block <= most && a.slice(at, at + block) === b.slice(at, at + block)) at += block;
  }
  while (at < most && a.charCodeAt(at) === b.charCodeAt(at)) at++;
  return at;
}

function commonSuffix(a: string, b: string, most: number): number {
  let length = 0;
  for (const block of blocks) {
    const blockOf = (text: string) => text.slice(text.length - length - block, text.length - length);
    while (length + block <= most && blockOf(a) === blockOf(b)) length += block;
  }
  while (length < most && a.charCodeAt(a.length - 1 - length) === b.charCodeAt(b.length - 1 - length))
    length++;
  return length;
}

const sizeOf = ({ lines, slots }: Memo): number => lines.size + slots.chords.size + slots.notes.size;

/** Drops what these lines don't use. */
function cutDown(memo: Memo, lines: readonly Line[]): void {
  const known = memo.slots;
  const slots = emptySlots();
  memo.lines = new Map();
  for (const line of lines) {
    if (memo.lines.has(line.text)) continue;
    memo.lines.set(line.text, line);
    const { statement } = line;
    if (statement.kind !== "row" || isTextRow(statement.row)) continue;
    const kind = statement.row === "chords" ? "chords" : "notes";
    keepSlots(statement.pickup, line.text, known[kind], slots[kind]);
    for (const bar of statement.bars) keepSlots(bar.slots, line.text, known[kind], slots[kind]);
  }
  memo.slots = slots;
  memo.limit = Math.max(leastLimit, 2 * sizeOf(memo));
}

function keepSlots(
  slots: readonly Slot[],
  line: string,
  from: ReadonlyMap<string, SlotReading>,
  into: Map<string, SlotReading>,
): void {
  for (const slot of slots) {
    if (slot.kind === "group") {
      keepSlots(slot.slots, line, from, into);
      continue;
    }
    const text = line.slice(slot.span.start, slot.span.end);
    const reading = from.get(text);
    if (reading !== undefined) into.set(text, reading);
  }
}
