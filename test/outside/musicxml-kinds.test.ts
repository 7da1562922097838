// W3C MusicXML 4.0, musicxml.xsd, kind-value: the 33 kinds and their documented contents, in the schema's order.
import { expect, test } from "vitest";
import { chordOfKind, kindsWithoutTones } from "../../server/src/theory/musicxml-kinds.js";
import { keysOf, overLetter, tonesOf } from "../support/chord-text.js";

const kinds: ReadonlyArray<readonly [kind: string, degrees: string, halfSteps: string]> = [
  ["major", "1 3 5", "0 4 7"],
  ["minor", "1 b3 5", "0 3 7"],
  ["augmented", "1 3 #5", "0 4 8"],
  ["diminished", "1 b3 b5", "0 3 6"],
  ["dominant", "1 3 5 b7", "0 4 7 10"],
  ["major-seventh", "1 3 5 7", "0 4 7 11"],
  ["minor-seventh", "1 b3 5 b7", "0 3 7 10"],
  ["diminished-seventh", "1 b3 b5 bb7", "0 3 6 9"],
  ["augmented-seventh", "1 3 #5 b7", "0 4 8 10"],
  ["half-diminished", "1 b3 b5 b7", "0 3 6 10"],
  ["major-minor", "1 b3 5 7", "0 3 7 11"],
  ["major-sixth", "1 3 5 6", "0 4 7 9"],
  ["minor-sixth", "1 b3 5 6", "0 3 7 9"],
  ["dominant-ninth", "1 3 5 b7 9", "0 2 4 7 10"],
  ["major-ninth", "1 3 5 7 9", "0 2 4 7 11"],
  ["minor-ninth", "1 b3 5 b7 9", "0 2 3 7 10"],
  ["dominant-11th", "1 3 5 b7 9 11", "0 2 4 5 7 10"],
  ["major-11th", "1 3 5 7 9 11", "0 2 4 5 7 11"],
  ["minor-11th", "1 b3 5 b7 9 11", "0 2 3 5 7 10"],
  ["dominant-13th", "1 3 5 b7 9 11 13", "0 2 4 5 7 9 10"],
  ["major-13th", "1 3 5 7 9 11 13", "0 2 4 5 7 9 11"],
  ["minor-13th", "1 b3 5 b7 9 11 13", "0 2 3 5 7 9 10"],
  ["suspended-second", "1 2 5", "0 2 7"],
  ["suspended-fourth", "1 4 5", "0 5 7"],
  ["power", "1 5", "0 7"],
  ["Tristan", "1 #4 #6 #9", "0 3 6 10"],
];

const withoutTones = ["Neapolitan", "Italian", "French", "German", "pedal", "other", "none"];

test("the schema has 33 kinds", () => {
  expect(kinds.length + withoutTones.length).toBe(33);
  expect(kindsWithoutTones).toEqual(withoutTones);
});

test.each(kinds)("%s has %s, half steps %s", (kind, degrees, halfSteps) => {
  const quality = chordOfKind(kind);
  expect(tonesOf(quality)).toBe(degrees);
  expect(keysOf(quality?.tones ?? [])).toBe(halfSteps);
});

test.each(kinds)("%s has a symbol that reads as the same chord", (kind, degrees) => {
  expect(tonesOf(overLetter(chordOfKind(kind)?.symbol ?? "no symbol"))).toBe(degrees);
});

test.each(withoutTones)("%s has no tones of its own", (kind) => {
  expect(chordOfKind(kind)).toBeUndefined();
});

// A player's 13 leaves the 11 out where the kind has it; over a minor third both have it.
test.each([
  ["dominant-13th", "13", "13add11"],
  ["major-13th", "maj13", "maj13add11"],
])("%s is more than the symbol %s", (kind, symbol, whole) => {
  expect(chordOfKind(kind)?.symbol).toBe(whole);
  expect(tonesOf(overLetter(`${symbol}add11`))).toBe(tonesOf(chordOfKind(kind)));
});
