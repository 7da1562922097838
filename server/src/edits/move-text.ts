import { homeOne, shorterWay } from "../chart/home-octave.js";
import type { Header, SectionSource } from "../chart/model.js";
import type { Outline } from "../chart/outline.js";
import type { FormItem, KeyLine, Line, OriginalText, Statement, Tree } from "../syntax/tree.js";
import type { Edit } from "../text/edits.js";
import { type Span, shift, sliceOf } from "../text/span.js";
import { type ModeName, practical } from "../theory/key.js";
import { octaveOf, pitchAt } from "../theory/pitch.js";
import { lettersOf } from "./letters.js";
import { type SignStyle, writtenName } from "./written-name.js";

/** A move of some text: how far its key names go on the line of fifths, and its sound in half steps. */
export interface Move {
  readonly fifths: number;
  readonly halfSteps: number;
  /** The move brings the chart back to where it was written, so that key names are again what they were. */
  readonly home: boolean;
}

/** How far a chart's sound goes when its header's key becomes `target`: always counted from where it was written. */
export function blockMove({ home, original }: Header, target: number): Move {
  const from = original ?? home.key.tonic;
  return {
    fifths: target - home.key.tonic,
    halfSteps: homeOne(from) + shorterWay(from, target) - home.one,
    home: target === from,
  };
}

/** Collects the edits of a move. Spans are given from a line's start and kept from the text's. */
export interface MoveWriter {
  readonly edits: Edit[];
  /** Pitches that would leave the octaves that can be written. */
  readonly tooFar: Span[];
  /** Names that coming home would write otherwise than they stand now. */
  readonly otherwise: Span[];
  readonly style: SignStyle;
}

const put = (writer: MoveWriter, span: Span, text: string, before: string): void => {
  if (text !== before) writer.edits.push({ span, text });
};

/** Rewrites one name, and remembers where the chart's style would have written it in another way. */
function putName(
  writer: MoveWriter,
  line: Line,
  lineStart: number,
  span: Span,
  fifths: number,
  by: number,
): void {
  const before = sliceOf(line.text, span);
  if (before !== writtenName(fifths, writer.style)) writer.otherwise.push(shift(span, lineStart));
  put(writer, shift(span, lineStart), writtenName(fifths + by, writer.style), before);
}

/** Sets, changes or takes away the words `(original …)` behind a key. */
export function putOriginal(
  writer: MoveWriter,
  lineStart: number,
  keyEnd: number,
  now: OriginalText | undefined,
  original: number | undefined,
): void {
  if (now === undefined) {
    if (original === undefined) return;
    const at = lineStart + keyEnd;
    writer.edits.push({
      span: { start: at, end: at },
      text: ` (original ${writtenName(original, writer.style)})`,
    });
  } else if (original === undefined) {
    // One space belongs to the words, as it was put before them.
    const start = Math.max(keyEnd, now.span.start - 1);
    writer.edits.push({ span: shift({ start, end: now.span.end }, lineStart), text: "" });
  } else if (original !== now.tonic.fifths) {
    writer.edits.push({ span: shift(now.tonic.span, lineStart), text: writtenName(original, writer.style) });
  }
}

/** Stands behind the key line that a move gives to a chart without one, and goes with it when it comes home. */
const added = "; came with the move: without a key line a chart is in C major";

/** Sets the header's key. A chart without a key line gets one as its first line, and loses it on coming home. */
export function moveHeaderKey(
  writer: MoveWriter,
  tree: Tree,
  { header }: Outline,
  now: Header,
  target: number,
): void {
  const original = now.original ?? now.home.key.tonic;
  const at = header.findIndex(({ statement }) => statement.kind === "key" && statement.tonic !== undefined);
  const line = header[at];
  const key = line?.statement;
  if (line === undefined || key?.kind !== "key" || key.tonic === undefined) {
    const start = tree.text.startsWith("\uFEFF") ? 1 : 0;
    const lineEnd = /\r\n|\n|\r/.exec(tree.text)?.[0] ?? "\n";
    const words = `key ${writtenName(target, writer.style)} major (original C) ${added}`;
    writer.edits.push({ span: { start, end: start }, text: words + lineEnd });
    return;
  }
  const start = tree.starts[at] as number;
  const cameWithMove = line.text.replace(/[\r\n]+$/, "").endsWith(added);
  if (target === original && cameWithMove) {
    const from = at === 0 && tree.text.startsWith("\uFEFF") ? 1 : 0;
    writer.edits.push({ span: shift({ start: from, end: line.text.length }, start), text: "" });
    return;
  }
  putName(writer, line, start, key.tonic.span, key.tonic.fifths, target - key.tonic.fifths);
  putOriginal(writer, start, key.keySpan.end, key.original, target === original ? undefined : original);
}

/** The name of a further key after a move, and the strict one where it is exchanged for its practical twin. */
function furtherName(
  strict: number,
  mode: ModeName,
  move: Move,
): { tonic: number; original: number | undefined } {
  const moved = strict + move.fifths;
  const tonic = move.home ? moved : practical({ tonic: moved, mode }).tonic;
  return { tonic, original: tonic === moved ? undefined : moved };
}

/** Moves a `key` line inside a section; gives the distance between its old and its new name. */
export function moveKeyLine(
  writer: MoveWriter,
  line: Line,
  lineStart: number,
  key: KeyLine,
  move: Move,
): number {
  if (key.tonic === undefined) return move.fifths;
  const { fifths } = key.tonic;
  const { tonic, original } = furtherName(key.original?.tonic.fifths ?? fifths, key.mode, move);
  putName(writer, line, lineStart, key.tonic.span, fifths, tonic - fifths);
  putOriginal(writer, lineStart, key.keySpan.end, key.original, original);
  return tonic - fifths;
}

/** Moves the `in KEY` of a word of `form` or `play`. */
export function moveItem(
  writer: MoveWriter,
  line: Line,
  lineStart: number,
  { move: words }: FormItem,
  mode: ModeName,
  move: Move,
): void {
  if (words?.kind !== "in") return;
  const { fifths } = words.tonic;
  const { tonic, original } = furtherName(words.original?.tonic.fifths ?? fifths, words.mode ?? mode, move);
  putName(writer, line, lineStart, words.tonic.span, fifths, tonic - fifths);
  putOriginal(writer, lineStart, words.keySpan.end, words.original, original);
}

/** Moves the letters of a row: names along the line of fifths, exact pitches by the same sounding distance. */
export function moveLetters(
  writer: MoveWriter,
  line: Line,
  lineStart: number,
  by: number,
  halfSteps: number,
): void {
  if (line.statement.kind !== "row") return;
  for (const { fifths, octave, span } of lettersOf(line.statement)) {
    if (octave === undefined) {
      putName(writer, line, lineStart, span, fifths, by);
      continue;
    }
    const name = { start: span.start, end: span.end - `${octave}`.length };
    const { midi } = pitchAt(fifths, octave);
    const moved = octaveOf({ fifths: fifths + by, midi: midi + halfSteps });
    if (moved < 0 || moved > 9) writer.tooFar.push(shift(span, lineStart));
    putName(writer, line, lineStart, name, fifths, by);
    const digits = { start: name.end, end: span.end };
    put(writer, shift(digits, lineStart), `${moved}`, sliceOf(line.text, digits));
  }
}

/**
 * Moves lines of a section, `from` to before `to`, from the key that is in force at the first of them on. `modeOf`
 * gives the mode in which a section starts, for the `in KEY` behind its name; without it those words stay.
 */
export function moveSectionText(
  writer: MoveWriter,
  { lines, starts }: SectionSource,
  offset: number,
  move: Move,
  { from, to }: { readonly from: number; readonly to: number },
  modeOf: ((section: string) => ModeName) | undefined,
): void {
  let by = move.fifths;
  for (let i = from; i < to; i++) {
    const line = lines[i] as Line;
    const start = offset + (starts[i] as number);
    const { statement } = line;
    if (statement.kind === "key") by = moveKeyLine(writer, line, start, statement, move);
    else if (statement.kind === "row") moveLetters(writer, line, start, by, move.halfSteps);
    else if (modeOf !== undefined) {
      for (const item of itemsOf(statement)) moveItem(writer, line, start, item, modeOf(item.name), move);
    }
  }
}

/** The section names of a line with their words. */
export const itemsOf = (statement: Statement): readonly FormItem[] => {
  if (statement.kind === "form") return statement.items;
  return statement.kind === "play" && statement.item !== undefined ? [statement.item] : [];
};

/** Sets a key line to a tonic, and takes `(original …)` away: it is written afresh. */
export function setKeyLine(
  writer: MoveWriter,
  line: Line,
  lineStart: number,
  key: KeyLine,
  tonic: number,
): void {
  if (key.tonic === undefined) return;
  putName(writer, line, lineStart, key.tonic.span, key.tonic.fifths, tonic - key.tonic.fifths);
  putOriginal(writer, lineStart, key.keySpan.end, key.original, undefined);
}
