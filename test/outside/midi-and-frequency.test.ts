// MIDI 1.0: middle C is note 60, the 88 keys of a piano are 21 (A0) to 108 (C8).
// ISO 16:1975: A4 is 440 Hz; equal temperament on it, to the hundredth as tables of frequencies print it.
import { expect, test } from "vitest";
import { frequency, pitchName, readPitch } from "../../server/src/theory/pitch.js";

const table: ReadonlyArray<readonly [pitch: string, midi: number, hertz: number]> = [
  ["A0", 21, 27.5],
  ["C1", 24, 32.7],
  ["E1", 28, 41.2],
  ["A1", 33, 55],
  ["C2", 36, 65.41],
  ["A2", 45, 110],
  ["C3", 48, 130.81],
  ["A3", 57, 220],
  ["C4", 60, 261.63],
  ["C#4", 61, 277.18],
  ["D4", 62, 293.66],
  ["Eb4", 63, 311.13],
  ["E4", 64, 329.63],
  ["F4", 65, 349.23],
  ["F#4", 66, 369.99],
  ["G4", 67, 392],
  ["Ab4", 68, 415.3],
  ["A4", 69, 440],
  ["Bb4", 70, 466.16],
  ["B4", 71, 493.88],
  ["C5", 72, 523.25],
  ["A5", 81, 880],
  ["C8", 108, 4186.01],
];

test.each(table)("%s is MIDI %i at %d Hz", (name, midi, hertz) => {
  const pitch = readPitch(name);
  expect(pitch?.midi).toBe(midi);
  expect(frequency(midi)).toBeCloseTo(hertz, 2);
  expect(pitch === undefined ? "" : pitchName(pitch)).toBe(name);
});
