import { isUnread } from "../problems/unread.js";
import { parse } from "../syntax/parse.js";
import type { Line, SlotContent } from "../syntax/tree.js";
import { columnsOf } from "../text/columns.js";

/** A bar of a line of chords: what a `chords` row writes in it, and the column at which it starts in the line. */
export interface ChordBar {
  readonly text: string;
  readonly column: number;
}

/** Longer lines are prose. */
const longestLine = 1000;

/**
 * The bars of a line that holds chords and nothing else. Without bar lines each chord has a bar of its own, and a `/`
 * stays with the chord before it. `undefined` for any other line.
 */
export function chordBars(text: string): readonly ChordBar[] | undefined {
  if (text.length > longestLine || /:\||\|:/.test(text)) return undefined;
  const hasBars = text.includes("|");
  const bars: { words: string[]; column: number }[] = [];
  let opened = false;
  let chords = 0;
  for (const { 0: word, index } of text.matchAll(/\|+|[^\s|]+/g)) {
    if (word.startsWith("|")) {
      // A bar without chords goes on with the one before.
      if (opened) bars.push({ words: [], column: columnsOf(text.slice(0, index)) });
      opened = true;
      continue;
    }
    const written = /^N\.?C\.?$/.test(word) ? "NC" : word;
    const kind = kindOf(written);
    if (kind === undefined) return undefined;
    const column = columnsOf(text.slice(0, index));
    const last = bars.at(-1);
    if (kind === "chord") chords++;
    if (!hasBars && kind !== "hold") bars.push({ words: [written], column });
    else if (hasBars && (opened || last === undefined)) bars.push({ words: [written], column });
    else if (last === undefined) return undefined;
    else last.words.push(written);
    opened = false;
  }
  if (chords === 0) return undefined;
  return bars.map(({ words, column }) => ({ text: words.join(" "), column }));
}

/** What stands between the bar lines of a row with these bars: `| C | G |`. */
export const barsText = (bars: readonly string[]): string =>
  `|${bars.map((bar) => (bar === "" ? " |" : ` ${bar} |`)).join("")}`;

/** What a word is in a row of chords; `undefined` where it can't be read there, or where nobody writes it so. */
function kindOf(word: string): "chord" | "hold" | "same" | undefined {
  if (/^\/+$/.test(word)) return "hold";
  const content = slotOf(word);
  if (content?.kind === "chord" || content?.kind === "bass" || content?.kind === "noChord") return "chord";
  return content?.kind === "sameBar" ? "same" : undefined;
}

/** A word read as the only slot of a row of chords. */
function slotOf(word: string): SlotContent | undefined {
  const { statement, problems } = parse(`chords | ${word} |`).lines[0] as Line;
  if (statement.kind !== "row" || problems.some(isUnread)) return undefined;
  const slot = statement.bars[0]?.slots;
  return slot?.length === 1 && slot[0]?.kind === "leaf" ? slot[0].content : undefined;
}
