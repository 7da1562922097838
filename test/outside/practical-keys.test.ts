// How often each of two enharmonic keys was written in published collections: the Distant Listening Corpus (1,216
// pieces), Billboard tonics (890 songs, mode not given), the CC0 Lieder corpus (404 first key signatures) and the
// Chord Jazzification data set. The practical key is the one that was written more often in the sum.
import { expect, test } from "vitest";
import { isPractical, keyName, practical, practicalKeys, readKey } from "../../server/src/theory/key.js";

type Counts = readonly number[];
const pairs: ReadonlyArray<
  readonly [oftener: string, rarer: string, countsOftener: Counts, countsRarer: Counts]
> = [
  ["Db major", "C# major", [14, 33, 18, 455], [0, 7, 1, 0]],
  ["B major", "Cb major", [9, 47, 16], [0, 1, 0]],
  ["Ab major", "G# major", [23, 53, 366], [0, 1, 0]],
  ["Eb major", "D# major", [63, 49, 635], [0, 0, 0]],
  ["Bb major", "A# major", [55, 50, 820], [0, 0, 0]],
  ["Eb minor", "D# minor", [4, 233], [0, 0]],
  ["Bb minor", "A# minor", [3, 12], [0, 0]],
  ["G# minor", "Ab minor", [4, 15], [0, 0]],
  ["C# minor", "Db minor", [12], [0]],
  ["F# minor", "Gb minor", [12], [0]],
  ["B minor", "Cb minor", [54], [0]],
];

const sum = (counts: Counts): number => counts.reduce((a, b) => a + b, 0);

function key(name: string): NonNullable<ReturnType<typeof readKey>> {
  const read = readKey(name);
  if (read === undefined) throw new Error(name);
  return read;
}

test.each(pairs)("of %s and %s the first is practical", (oftener, rarer, countsOftener, countsRarer) => {
  expect(sum(countsOftener)).toBeGreaterThan(sum(countsRarer));
  expect(isPractical(key(oftener))).toBe(true);
  expect(isPractical(key(rarer))).toBe(false);
  expect(keyName(practical(key(rarer)))).toBe(oftener);
});

// Gb 0, 3, 6, 29 and F# 6, 13, 5, 0: each collection has its own favourite, so both serve.
test.each(["Gb major", "F# major"])("%s is practical", (name) => {
  expect(isPractical(key(name))).toBe(true);
});

test.each([
  ["major", "C Db D Eb E F Gb G Ab A Bb B"],
  ["minor", "C C# D Eb E F F# G G# A Bb B"],
] as const)("the twelve practical keys of %s are %s", (mode, tonics) => {
  expect(practicalKeys(mode).map(keyName)).toEqual(tonics.split(" ").map((tonic) => `${tonic} ${mode}`));
});
