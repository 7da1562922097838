// C. Harte, M. Sandler, S. Abdallah and E. Gómez, Symbolic Representation of Musical Chords (ISMIR 2005), Table 1:
// the shorthands and their degrees over the root; and the extensions that later collections added.
import { expect, test } from "vitest";
import { overLetter, tonesOf } from "../support/chord-text.js";

const shorthands: ReadonlyArray<readonly [shorthand: string, degrees: string]> = [
  ["maj", "3 5"],
  ["min", "b3 5"],
  ["dim", "b3 b5"],
  ["aug", "3 #5"],
  ["maj7", "3 5 7"],
  ["min7", "b3 5 b7"],
  ["7", "3 5 b7"],
  ["dim7", "b3 b5 bb7"],
  ["hdim7", "b3 b5 b7"],
  ["minmaj7", "b3 5 7"],
  ["maj6", "3 5 6"],
  ["min6", "b3 5 6"],
  ["9", "3 5 b7 9"],
  ["maj9", "3 5 7 9"],
  ["min9", "b3 5 b7 9"],
  ["sus4", "4 5"],
  ["sus2", "2 5"],
  ["5", "5"],
  ["11", "3 5 b7 9 11"],
  ["min11", "b3 5 b7 9 11"],
  ["maj11", "3 5 7 9 11"],
  ["min13", "b3 5 b7 9 11 13"],
];

test.each(shorthands)("%s has %s", (shorthand, degrees) => {
  expect(tonesOf(overLetter(shorthand))).toBe(`1 ${degrees}`);
});

// Differences: the later 13 and maj13 include the 11, which players leave out against a major third.
test.each([
  ["13", "3 5 b7 9 11 13", "3 5 b7 9 13"],
  ["maj13", "3 5 7 9 11 13", "3 5 7 9 13"],
])("%s leaves the 11 out", (shorthand, theirs, ours) => {
  expect(tonesOf(overLetter(shorthand))).toBe(`1 ${ours}`);
  expect(tonesOf(overLetter(`${shorthand}add11`))).toBe(`1 ${theirs}`);
});
