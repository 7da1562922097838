import fc from "fast-check";
import { expect, test } from "vitest";
import { nameOf, readName } from "../../server/src/theory/note-name.js";
import {
  fifthsAbove,
  halfStepsAbove,
  isSameNumber,
  keyAbove,
  numberOf,
  prettyNumber,
  printNumber,
  readNumber,
  upper,
} from "../../server/src/theory/tone-number.js";
import { assertProperty } from "../support/property.js";

test.each([
  ["b3", -3, 3, "♭3"],
  ["#11", 6, 18, "♯11"],
  ["bb7", -9, 9, "♭♭7"],
  ["9", 2, 14, "9"],
  ["1", 0, 0, "1"],
  ["8", 0, 12, "8"],
  ["0", 0, 0, "0"],
])("%s is %i fifths and %i half steps above the root, shown as %s", (text, fifths, halfSteps, shown) => {
  const n = readNumber(text);
  if (n === undefined) throw new Error(text);
  expect(fifthsAbove(n)).toBe(fifths);
  expect(halfStepsAbove(n)).toBe(halfSteps);
  expect(printNumber(n)).toBe(text);
  expect(prettyNumber(n)).toBe(shown);
});

test.each(["", "b", "14", "b0", "#0", "3b", "00", "03", "b#3", "x"])("'%s' is no number", (text) => {
  expect(readNumber(text)).toBeUndefined();
});

test.each([
  ["♭3", "b3"],
  ["♯11", "#11"],
  ["♭♭7", "bb7"],
])("%s is read as %s", (text, ascii) => {
  expect(readNumber(text)).toEqual(readNumber(ascii));
});

test.each([
  ["C", "Eb", "b3"],
  ["F", "G#", "#2"],
  ["F", "Cb", "b5"],
  ["B", "A", "b7"],
  ["Eb", "Dbb", "bb7"],
  ["C", "C", "1"],
])("over %s, %s is %s", (root, tone, number) => {
  expect(printNumber(numberOf(readName(root) ?? 0, readName(tone) ?? 0))).toBe(number);
});

test("2, 4 and 6 have upper numbers, others stay", () => {
  expect(
    ["2", "#4", "b6", "3", "9"].map((text) =>
      printNumber(upper(readNumber(text) ?? { number: 1, alter: 0 })),
    ),
  ).toEqual(["9", "#11", "b13", "3", "9"]);
});

test("9 and 2 are one key but not one number", () => {
  const two = { number: 2, alter: 0 };
  const nine = { number: 9, alter: 0 };
  expect(keyAbove(two)).toBe(keyAbove(nine));
  expect(isSameNumber(two, nine)).toBe(false);
});

test("a tone's number leads back to the tone", () => {
  const fifths = fc.integer({ min: -15, max: 19 });
  assertProperty(
    fc.property(fifths, fifths, (root, tone) => {
      expect(nameOf(root + fifthsAbove(numberOf(root, tone)))).toBe(nameOf(tone));
    }),
  );
});
