// npm tonal 6.4.3 (MIT), a music theory library made by others: notes moved by intervals, and where the keys of a
// keyboard are named.
import { Interval, Note } from "tonal";
import { expect, test } from "vitest";
import { movePitch, pitchName, readPitch } from "../../server/src/theory/pitch.js";
import { fifthsAbove, halfStepsAbove, readNumber } from "../../server/src/theory/tone-number.js";

const notes = [..."CDEFGAB"].flatMap((letter) =>
  ["b", "", "#"].flatMap((sign) => [2, 4].map((octave) => `${letter}${sign}${octave}`)),
);

/** Ours beside tonal's name. */
const intervals: readonly (readonly [number: string, interval: string])[] = [
  ["1", "1P"],
  ["b2", "2m"],
  ["2", "2M"],
  ["b3", "3m"],
  ["3", "3M"],
  ["4", "4P"],
  ["#4", "4A"],
  ["b5", "5d"],
  ["5", "5P"],
  ["b6", "6m"],
  ["6", "6M"],
  ["b7", "7m"],
  ["7", "7M"],
  ["8", "8P"],
  ["b9", "9m"],
  ["9", "9M"],
  ["b10", "10m"],
  ["10", "10M"],
  ["11", "11P"],
  ["b13", "13m"],
  ["13", "13M"],
];

const both = intervals.flatMap(([number, interval]) =>
  (["up", "down"] as const).map((way) => [number, interval, way] as const),
);

test.each(both)("every note moved by a %s (%s) %s is the same note", (text, interval, way) => {
  const number = readNumber(text) ?? expect.fail(text);
  const sign = way === "up" ? 1 : -1;
  expect(Interval.semitones(interval)).toBe(halfStepsAbove(number));
  for (const name of notes) {
    const pitch = readPitch(name) ?? expect.fail(name);
    const moved = movePitch(pitch, sign * fifthsAbove(number), sign * halfStepsAbove(number));
    const theirs = Note.transpose(name, way === "up" ? interval : `-${interval}`);
    expect(moved.midi, name).toBe(Note.midi(theirs));
    expect(pitchName(moved).replace("x", "##"), name).toBe(theirs);
  }
});

test.each(Array.from({ length: 88 }, (_, i) => 21 + i))("key %i has the name that tonal gives it", (midi) => {
  for (const name of [Note.fromMidi(midi), Note.fromMidiSharps(midi)])
    expect(readPitch(name)?.midi).toBe(midi);
});
