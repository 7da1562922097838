import { expect, test } from "vitest";
import { intervalName, intervalOfWhiteKeys } from "../../server/src/theory/interval-name.js";
import { type Pitch, readPitch } from "../../server/src/theory/pitch.js";

// Interval names by letters and accidentals, as any elements of music have them.
test.each([
  ["C4", "C4", "a unison"],
  ["C2", "E3", "a tenth"],
  ["C2", "Eb3", "a minor tenth"],
  ["F2", "Ab3", "a minor tenth"],
  ["B2", "D#4", "a tenth"],
  ["Db3", "F4", "a tenth"],
  ["C4", "C5", "an octave"],
  ["C4", "C#5", "an augmented octave"],
  ["C4", "Db5", "a minor ninth"],
  ["C4", "D5", "a ninth"],
  ["C4", "F#5", "an augmented eleventh"],
  ["F3", "B4", "an augmented eleventh"],
  ["B3", "F4", "a diminished fifth"],
  ["C3", "G4", "a twelfth"],
  ["C3", "C5", "two octaves"],
  ["C3", "C#5", "an augmented double octave"],
  ["C2", "E4", "two octaves and a third"],
  ["C2", "Eb5", "three octaves and a minor third"],
  ["C1", "C5", "four octaves"],
  ["Bbb3", "C4", "a minor third"],
])("from %s to %s is %s", (lower, upper, name) => {
  expect(intervalName(readPitch(lower) as Pitch, readPitch(upper) as Pitch)).toBe(name);
});

test("a name that no interval joins to the other is taken for its twin on the same key", () => {
  expect(intervalName(readPitch("Ab2") as Pitch, readPitch("D#4") as Pitch)).toBe("a twelfth");
  expect(intervalName(readPitch("Cb4") as Pitch, readPitch("B#4") as Pitch)).toBe("an augmented octave");
});

test("a reach is named by its white keys", () => {
  expect([5, 8, 9, 11, 15].map(intervalOfWhiteKeys)).toEqual([
    "a fifth",
    "an octave",
    "a ninth",
    "an eleventh",
    "two octaves",
  ]);
});
