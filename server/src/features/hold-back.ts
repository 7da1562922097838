import type { Document } from "../document/document.js";
import type { Problem } from "../problems/problem.js";
import { isUnread } from "../problems/unread.js";
import type { Line } from "../syntax/tree.js";
import type { Edit } from "../text/edits.js";
import { indexAt } from "../text/lines.js";
import type { Span } from "../text/span.js";

/**
 * Where the last of some changes stands in the text after all of them; each change counts in the text that the one
 * before left. `undefined` without any.
 */
export function lastTouched(changes: readonly Edit[]): Span | undefined {
  const last = changes.at(-1);
  return last && { start: last.span.start, end: last.span.start + last.text.length };
}

/** What differs between two texts, as a place of the later one: for a client that sends whole texts. `undefined` where they are equal. */
export function touchedBetween(before: string, after: string): Span | undefined {
  if (before === after) return undefined;
  const most = Math.min(before.length, after.length);
  let start = 0;
  while (start < most && before.charCodeAt(start) === after.charCodeAt(start)) start++;
  let back = 0;
  while (
    back < most - start &&
    before.charCodeAt(before.length - 1 - back) === after.charCodeAt(after.length - 1 - back)
  )
    back++;
  return { start, end: after.length - back };
}

/** The problems of a chart while it is typed in. */
export interface HeldBack {
  readonly shown: readonly Problem[];
  readonly held: readonly Problem[];
}

/**
 * Holds back the problems of what is half typed: those of the word at `touched`, the place of the last change, and of
 * its row those that only come from its not being finished, such as a bar too few or a parenthesis yet to be closed.
 * White space ends a word, so after it nothing is half typed; neither is anything that came as more than one word.
 */
export function holdBack(document: Document, touched: Span | undefined): HeldBack {
  const { problems, text } = document;
  const word = touched && wordAt(text, touched);
  if (word === undefined) return { shown: problems, held: [] };
  const isHeld = heldIn(document, word);
  const shown: Problem[] = [];
  const held: Problem[] = [];
  for (const it of problems) (isHeld(it) ? held : shown).push(it);
  return held.length === 0 ? { shown: problems, held } : { shown, held };
}

const gap = /[ \t\r\n|]/;
const isGap = (character: string | undefined): boolean => character === undefined || gap.test(character);

/** The word that a change touches: between white space and bar lines; `undefined` where it touches none or several. */
function wordAt(text: string, { start, end }: Span): Span | undefined {
  const from = Math.max(0, Math.min(start, text.length));
  const to = Math.max(from, Math.min(end, text.length));
  for (let i = from; i < to; i++) if (isGap(text[i])) return undefined;
  let first = from;
  let last = to;
  while (first > 0 && !isGap(text[first - 1])) first--;
  while (last < text.length && !isGap(text[last])) last++;
  return first === last ? undefined : { start: first, end: last };
}

function heldIn({ tree, text }: Document, word: Span): (it: Problem) => boolean {
  const { lines, starts } = tree;
  const index = indexAt(starts, word.start);
  const line = lines[index] as Line;
  const isRow = line.statement.kind === "row";
  const bar = isRow ? barAround(text, word) : word;
  const system = isRow ? linesAround(lines, index) : undefined;
  const inSystem = system && {
    start: starts[system.start] as number,
    end: starts[system.end] ?? text.length,
  };
  return (it) => {
    if (touch(it.span, word)) return true;
    if (isUnread(it) && touch(it.span, bar)) return true;
    return it.code === "uneven-rows" && inSystem !== undefined && touch(it.span, inSystem);
  };
}

const touch = (a: Span, b: Span): boolean => a.start <= b.end && b.start <= a.end;

/** From the bar line before a word to the one after it, or the ends of its line. */
function barAround(text: string, { start, end }: Span): Span {
  const isEnd = (at: number): boolean => at < 0 || at >= text.length || /[|\r\n]/.test(text[at] as string);
  let [first, last] = [start, end];
  while (!isEnd(first - 1)) first--;
  while (!isEnd(last)) last++;
  return { start: first, end: last };
}

/** The rows that stand together with a line: indices of lines, the end excluded. */
function linesAround(lines: readonly Line[], index: number): Span {
  const isTogether = (at: number): boolean => {
    const kind = lines[at]?.statement.kind;
    return kind === "row" || kind === "comment" || kind === "unread";
  };
  let [start, end] = [index, index + 1];
  while (isTogether(start - 1)) start--;
  while (isTogether(end)) end++;
  return { start, end };
}
