import { describe, expect, test } from "vitest";
import { travel, travelTime } from "../../server/src/keyboard/leap.js";
import { readPitch } from "../../server/src/theory/pitch.js";

const keys = (text: string): readonly number[] =>
  text.split(" ").map((name) => readPitch(name)?.midi ?? expect.fail(name));

// Worked values of the model: the time in ms that a way in mm needs.
test.each([
  [0, 0],
  [23.5, 84],
  [47, 123],
  [94, 173],
  [141, 205],
  [164.5, 218],
  [188, 229],
  [211.5, 240],
  [329, 279],
  [493.5, 316],
])("%f mm take %i ms", (distance, time) => {
  expect(Math.round(travelTime(distance * 1000))).toBe(time);
});

// At reach 9: the way in mm, the time, and the quickest beat where one grip follows the other on the next beat.
const leaps: readonly (readonly [from: string, to: string, distance: number, time: number, beat: number])[] =
  [
    ["C2", "E3 G3 C4", 188, 229, 262],
    ["C2 C3", "E3 G3 C4", 164.5, 218, 275],
    ["C2", "E3 Bb3 D4", 211.5, 240, 250],
    ["F1", "A3 C4 F4", 352.5, 285, 211],
    ["C4 E4 G4", "C5 E5 G5", 117.5, 190, 315],
    ["C3 C4", "C4 C5", 164.5, 218, 275],
    ["C4", "C5", 23.5, 84, 714],
  ];

describe("a leap", () => {
  test.each(leaps)(
    "from %s to %s goes %f mm and takes %i ms, a beat of %i",
    (from, to, distance, time, beat) => {
      const far = travel(keys(from), keys(to), 9);
      expect(far).toBe(distance * 1000);
      expect(travel(keys(to), keys(from), 9)).toBe(far);
      expect(Math.round(travelTime(far))).toBe(time);
      expect(Math.abs(60_000 / travelTime(far) - beat)).toBeLessThan(1);
    },
  );

  test.each([
    ["C4", "G4"],
    ["C4 C5", "E4 G4"],
    ["C4 E4 G4", "D4 F4 A4"],
  ])("from %s to %s is none", (from, to) => {
    expect(travel(keys(from), keys(to), 9)).toBe(0);
  });
});

// The relaxed hand covers 117.5 mm at reach 8 and below, 141 mm from 9 on.
test.each([
  [5, 47],
  [7, 47],
  [8, 47],
  [9, 23.5],
  [10, 23.5],
  [15, 23.5],
])("a hand of reach %i goes %f mm to the octave", (reach, distance) => {
  expect(travel(keys("C4"), keys("C5"), reach)).toBe(distance * 1000);
});
