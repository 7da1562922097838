// B. Nettles, Harmony 3 (Berklee), the available tension rule: tones a whole step above a chord tone; and the usual
// table that it gives, with the dominant's exceptions b9 #9 b13 (D. Pease, Jazz Composition: 9 11 13, b9 #9 #11 b13).
import { expect, test } from "vitest";
import { tensionsOf } from "../../server/src/theory/chord-scales.js";
import { printNumber } from "../../server/src/theory/tone-number.js";
import { overLetter } from "../support/chord-text.js";

const table: ReadonlyArray<readonly [symbol: string, tensions: string]> = [
  ["maj7", "9 #11 13"],
  ["6", "9 #11 7"],
  ["m7", "9 11"],
  ["m(maj7)", "9 11 13"],
  ["m6", "9 11 7"],
  ["m7b5", "9 11 b13"],
  ["dim7", "9 11 b13 7"],
  ["7", "b9 9 #9 #11 b13 13"],
  ["7sus4", "9 13"],
  ["7#5", "9 #11"],
  ["maj7#5", "9 #11"],
];

test.each(table)("%s takes %s", (symbol, tensions) => {
  const quality = overLetter(symbol);
  expect(quality === undefined ? "" : tensionsOf(quality).map(printNumber).join(" ")).toBe(tensions);
});
