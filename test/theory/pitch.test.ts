import fc from "fast-check";
import { expect, test } from "vitest";
import {
  frequency,
  movePitch,
  octaveOf,
  pitchAt,
  pitchName,
  prettyPitch,
  readPitch,
} from "../../server/src/theory/pitch.js";
import { assertProperty } from "../support/property.js";

test.each([
  ["C4", 60],
  ["B#3", 60],
  ["Cb4", 59],
  ["Dbb4", 60],
  ["A0", 21],
  ["C-1", 0],
  ["Eb4", 63],
])("%s is MIDI %i and reads back", (name, midi) => {
  const pitch = readPitch(name);
  expect(pitch?.midi).toBe(midi);
  expect(pitch === undefined ? "" : pitchName(pitch)).toBe(name);
});

test.each(["", "C", "4", "H4", "Eb4x", "C4.5"])("'%s' is no pitch", (text) => {
  expect(readPitch(text)).toBeUndefined();
});

test.each([
  ["Eb4", "E♭4"],
  ["Dbb4", "C4"],
  ["Cbb4", "B♭3"],
  ["B#3", "B♯3"],
  ["Bx3", "C♯4"],
])("%s is shown plainly as %s", (name, shown) => {
  const pitch = readPitch(name);
  expect(pitch === undefined ? "" : prettyPitch(pitch)).toBe(shown);
});

test("a minor third up from C4 is Eb4", () => {
  expect(pitchName(movePitch(pitchAt(0, 4), -3, 3))).toBe("Eb4");
});

test("an octave doubles the frequency", () => {
  expect(frequency(81)).toBe(880);
});

test("a pitch has the octave that it was made in", () => {
  assertProperty(
    fc.property(fc.integer({ min: -22, max: 26 }), fc.integer({ min: -1, max: 9 }), (fifths, octave) => {
      const pitch = pitchAt(fifths, octave);
      expect(octaveOf(pitch)).toBe(octave);
      expect(readPitch(pitchName(pitch))).toEqual(pitch);
    }),
  );
});
