import { describe, expect, test } from "vitest";
import { handTravel, travel, travelTime } from "../../server/src/keyboard/leap.js";
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

describe("a hand that holds both grips at once", () => {
  test.each([
    ["C4", "C5", "right", 8],
    ["C4", "C5", "left", 8],
    ["C4", "D5", "right", 9],
    ["C4 E4 G4", "C5", "right", 8],
    ["C2 G2", "C3", "left", 8],
    // The minor tenths that a ninth holds.
    ["F3", "Ab4", "left", 9],
    ["C4", "E5", "right", 10],
  ] as const)("rocks from %s to %s in the %s hand at reach %i", (from, to, hand, reach) => {
    expect(travel(keys(from), keys(to), reach)).toBeGreaterThan(0);
    expect(handTravel(keys(from), keys(to), hand, reach)).toBe(0);
    expect(handTravel(keys(to), keys(from), hand, reach)).toBe(0);
  });

  test.each([
    ["C4", "C5", "right", 7],
    ["C4", "D5", "right", 8],
    // A half step higher they are wider.
    ["E3", "G4", "left", 9],
    ["C4", "E5", "right", 9],
    // The ends lie near enough, and the fingers between them don't.
    ["C2", "C3 E3", "left", 10],
    ["C4 D4 E4 F4", "G4 A4 B4 C5", "right", 9],
  ] as const)("travels from %s to %s in the %s hand at reach %i", (from, to, hand, reach) => {
    const far = travel(keys(from), keys(to), reach);
    expect(far).toBeGreaterThan(0);
    expect(handTravel(keys(from), keys(to), hand, reach)).toBe(far);
  });

  test("is the right or the left one", () => {
    const [from, to] = [keys("C4 E4 G4"), keys("Bb4 C5 D5")];
    expect(handTravel(from, to, "left", 9)).toBe(0);
    expect(handTravel(from, to, "right", 9)).toBe(travel(from, to, 9));
  });
});
