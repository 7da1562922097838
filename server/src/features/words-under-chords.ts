import { columnsOf } from "../text/columns.js";
import { barsText, type ChordBar } from "./chord-bars.js";

/**
 * A `words` row for a line of words that stands under a line of chords: what stands under a chord goes into its bar,
 * what stands before the first one before the first bar line. A chord over the middle of a word parts it there.
 */
export function wordsRow(words: string, bars: readonly ChordBar[]): string {
  const text = withoutNumber(words);
  const cuts: number[] = [];
  for (const { column } of bars)
    cuts.push(Math.max(cuts.at(-1) ?? 0, cutAt(text, indexAtColumn(text, column))));
  const part = (from: number, to: number): string => {
    const said = text.slice(from, to);
    const isParted = isInWord(text, to) && !said.endsWith("-");
    return said.trim().replace(/\s+/g, " ") + (isParted ? "-" : "");
  };
  const pickup = part(0, cuts[0] ?? 0);
  const inBars = cuts.map((cut, i) => part(cut, cuts[i + 1] ?? text.length));
  return `words ${pickup === "" ? "" : `${pickup} `}${barsText(inBars)}`;
}

/** The number of a verse before its words makes room for them: `2. Slow the river`. */
const withoutNumber = (text: string): string =>
  text.replace(
    /^(\s*)([0-9]{1,2}[.)])(?=\s)/,
    (_, space: string, number: string) => space + " ".repeat(number.length),
  );

/** Whether a line of words starts with the number of a verse. */
export const hasVerseNumber = (text: string): boolean => /^\s*[0-9]{1,2}[.)]\s/.test(text);

const isInWord = (text: string, at: number): boolean =>
  at > 0 && at < text.length && isLetter(text[at - 1] as string) && isLetter(text[at] as string);
const isLetter = (character: string): boolean => !/\s/.test(character);

/** The place of the character at a column; the text's end where it is shorter. */
function indexAtColumn(text: string, column: number): number {
  let columns = 0;
  let at = 0;
  for (const character of text) {
    if (columns >= column) return at;
    columns += columnsOf(character);
    at += character.length;
  }
  return at;
}

const vowel = /[aeiouyàáâãäåæèéêëìíîïòóôõöøùúûüýœ]/iu;

/**
 * Where words are parted under a chord that stands over `at`: there, if a syllable may start there, which needs a
 * vowel on both sides; else at the word's nearer end.
 */
function cutAt(text: string, at: number): number {
  if (!isInWord(text, at)) return at;
  const start = at - (/\S+$/.exec(text.slice(0, at))?.[0].length ?? 0);
  const end = at + (/^\S+/.exec(text.slice(at))?.[0].length ?? 0);
  const [before, after] = [text.slice(start, at), text.slice(at, end)];
  if (vowel.test(before) && vowel.test(after)) return at;
  return vowel.test(after) ? start : end;
}
