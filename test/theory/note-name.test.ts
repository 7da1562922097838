import fc from "fast-check";
import { expect, test } from "vitest";
import {
  alterOf,
  letterOf,
  nameOf,
  pitchClass,
  plainFifths,
  prettyName,
  prettyStrict,
  readName,
  readSigns,
} from "../../server/src/theory/note-name.js";
import { assertProperty } from "../support/property.js";

test.each([
  [-1, "F"],
  [0, "C"],
  [5, "B"],
  [6, "F#"],
  [-2, "Bb"],
  [-9, "Bbb"],
  [13, "Fx"],
  [20, "F###"],
  [-16, "Bbbb"],
])("%i on the line of fifths is %s", (fifths, name) => {
  expect(nameOf(fifths)).toBe(name);
  expect(readName(name)).toBe(fifths);
});

test.each([
  ["E♭", -3],
  ["F♯", 6],
  ["F##", 13],
  ["F𝄪", 13],
  ["B𝄫", -9],
  ["E♭b", -10],
])("%s is read too", (text, fifths) => {
  expect(readName(text)).toBe(fifths);
});

test.each(["", "e", "H", "Eb4", "E#b", "Ebm", "b"])("'%s' is no name", (text) => {
  expect(readName(text)).toBeUndefined();
});

test("signs of both kinds together are none", () => {
  expect(readSigns("b#")).toBeUndefined();
  expect(readSigns("")).toBe(0);
});

test.each([
  ["Bbb", "A"],
  ["Fx", "G"],
  ["Bx", "C♯"],
  ["Ex", "F♯"],
  ["Fbb", "E♭"],
  ["Cb", "C♭"],
  ["E#", "E♯"],
  ["F###", "G♯"],
  ["Bbbb", "A♭"],
])("%s is shown plainly as %s", (text, shown) => {
  expect(prettyName(readName(text) ?? Number.NaN)).toBe(shown);
});

test("the strict name for people repeats its signs", () => {
  expect(prettyStrict(-9)).toBe("B♭♭");
  expect(prettyStrict(13)).toBe("F♯♯");
});

test("every name reads back, keeps its key when plain, and seven fifths are one sharp", () => {
  assertProperty(
    fc.property(fc.integer({ min: -29, max: 33 }), (fifths) => {
      expect(readName(nameOf(fifths))).toBe(fifths);
      expect(readName(prettyStrict(fifths))).toBe(fifths);
      expect(pitchClass(plainFifths(fifths))).toBe(pitchClass(fifths));
      expect(Math.abs(alterOf(plainFifths(fifths)))).toBeLessThan(2);
      expect(letterOf(fifths + 7)).toBe(letterOf(fifths));
      expect(pitchClass(fifths + 7)).toBe((pitchClass(fifths) + 1) % 12);
    }),
  );
});
