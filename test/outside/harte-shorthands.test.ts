// C. Harte, M. Sandler, S. Abdallah and E. Gómez, Symbolic Representation of Musical Chords (ISMIR 2005), Table 1:
// the shorthands and their degrees over the root; and the extensions that later collections added.
import { expect, test } from "vitest";
import { overLetter, tonesOf } from "../support/chord-text.js";
import { shorthands } from "./harte-table.js";

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
