import { expect, test } from "vitest";
import { fraction } from "../../server/src/theory/fraction.js";
import { isNoteValue, isTriplet } from "../../server/src/theory/note-value.js";

test.each(["1/1 1/2 1/4 1/8 1/64 2/1", "3/2 3/4 3/8 3/16", "1/3 2/3 1/6 1/12 1/24"])(
  "%s are notes that a player knows",
  (lengths) => {
    for (const length of lengths.split(" ")) expect(isNoteValue(read(length)), length).toBe(true);
  },
);

test("fives, sevens, nines and tied lengths are none", () => {
  for (const length of "1/5 1/7 1/9 1/11 5/8 7/8 9/16 5/4 3/5 2/9".split(" "))
    expect(isNoteValue(read(length)), length).toBe(false);
});

test("a fraction may be in any terms", () => {
  expect(isNoteValue({ n: 3, d: 12 })).toBe(true);
  expect(isNoteValue({ n: 10, d: 40 })).toBe(true);
  expect(isNoteValue({ n: 3, d: 15 })).toBe(false);
});

test("thirds of plain notes are those of triplets", () => {
  for (const length of "1/3 2/3 1/6 1/12".split(" ")) expect(isTriplet(read(length)), length).toBe(true);
  for (const length of "1/4 3/8 3/4 1/9".split(" ")) expect(isTriplet(read(length)), length).toBe(false);
});

const read = (text: string) => {
  const [n = 0, d = 1] = text.split("/").map(Number);
  return fraction(n, d);
};
