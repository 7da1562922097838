import { readFileSync } from "node:fs";
import { join } from "node:path";
import { root } from "../support/root.js";

/** The chart that most tests look at: the one that the walkthrough opens. */
export const sample = readFileSync(join(root, "client/sample/first-light.plagal"), "utf8");

/** The charts of the opened folder. */
export const charts: Readonly<Record<string, string>> = {
  "first-light.plagal": sample,
  "letters.plagal": "key     C major\n\nsection A\nchords  | Am7 | F |\nleft    | A2  | F2 |\n",
  "evening.plagal": 'use     "walk.plagal"\n\nsection Verse\nchords  | 1 |\n\nform    Walk Verse\n',
  "walk.plagal": "section Walk\nlands   1\nchords  | 2m7 | 5:7 |\n",
  "muddy.plagal": "key     C major\n\nsection A\nchords  | 1 |\nleft    | 1+3 |\n",
};

/** Where words stand in a text, line and column counted from 1. */
export function placeOf(
  text: string,
  line: RegExp,
  words: string,
  after = 0,
): { line: number; column: number } {
  const lines = text.split("\n");
  const at = lines.findIndex((it) => line.test(it));
  const column = (lines[at] ?? "").indexOf(words);
  if (at < 0 || column < 0) throw new Error(`“${words}” stands on no line ${line}`);
  return { line: at + 1, column: column + 1 + after };
}
