// Where the keys of a piano lie. (1) An octave is 164 to 165 mm wide, a white key about 23.5 mm (datagenetics.com;
// quadibloc.com, The Size of the Piano Keyboard). (2) dvdrndlph/pydactyl (MIT), commit 0ad656d, horizontal key
// positions. (3) A public CAD model of a keyboard with white keys of 23.65 mm. (4) Jacobs (2001), Refinements to the
// ergonomic model for keyboard fingering, Music Perception 18(4): octave 165 mm, 13.75 mm a half step.
import { describe, expect, test } from "vitest";
import { grip } from "../../server/src/keyboard/grip.js";
import { isBlack, octaveWidth, placeOf, whiteKeyWidth } from "../../server/src/keyboard/key-place.js";
import { type Geometry, geometryOf, holds, usualGeometry } from "../support/exhaustive-grip.js";

const names = ["C", "C♯", "D", "D♯", "E", "F", "F♯", "G", "G♯", "A", "A♯", "B"];
/** From the middle of C, in mm. */
const here = (step: number): number => (placeOf(60 + step) - placeOf(60)) / 1000;

test("an octave is 164 to 165 mm wide, and seven white keys", () => {
  expect(octaveWidth).toBeGreaterThanOrEqual(164_000);
  expect(octaveWidth).toBeLessThanOrEqual(165_000);
  expect(octaveWidth).toBe(7 * whiteKeyWidth);
  expect(Math.abs(octaveWidth / 12 - 13_750)).toBeLessThan(50);
});

// (1) Centre to centre of white keys.
test.each([
  ["octave", 72, 164.5],
  ["ninth", 74, 188],
  ["tenth", 76, 211.5],
])("the %s of C is %s", (_name, key, width) => {
  expect((placeOf(key) - placeOf(60)) / 1000).toBe(width);
});

// (2) Its A is half a millimetre short (G to A is 23.0 there), and so is its B.
const pydactyl = [0, 9.5, 23.5, 37.5, 47, 70.5, 78.5, 94, 105.5, 117, 132.5, 140.5];
test.each(pydactyl.map((place, step) => [names[step] as string, place, step] as const))(
  "%s lies within half a millimetre of %f",
  (_name, place, step) => {
    expect(Math.abs(here(step) - place)).toBeLessThanOrEqual(0.5);
  },
);

// (3) Black keys from the border of their neighbours, on white keys of 23.65 mm.
const cad: Readonly<Record<number, number>> = { 1: -2.175, 3: 2.175, 6: -3.35, 8: 0, 10: 3.35 };
test.each(
  Object.entries(cad).map(([step, jitter]) => [names[Number(step)] as string, jitter, Number(step)] as const),
)("%s lies %f mm off the border, within half a millimetre", (_name, jitter, step) => {
  const border = (here(step - 1) + here(step + 1)) / 2;
  expect(Math.abs(here(step) - border - jitter)).toBeLessThan(0.5);
});

// What any geometry must have.
test.each([
  ["C♯", 1, -1],
  ["D♯", 3, 1],
  ["F♯", 6, -1],
  ["G♯", 8, 0],
  ["A♯", 10, 1],
] as const)("%s lies on its side of the border", (_name, step, side) => {
  const border = (here(step - 1) + here(step + 1)) / 2;
  expect(Math.sign(Math.round(1000 * (here(step) - border)))).toBe(side);
});

test("the keyboard is its own mirror about D and about G♯", () => {
  for (let key = 21; key <= 103; key++) {
    expect(placeOf(124 - key)).toBe(2 * placeOf(62) - placeOf(key));
    expect(placeOf(136 - key)).toBe(2 * placeOf(68) - placeOf(key));
    expect(isBlack(124 - key)).toBe(isBlack(key));
  }
});

describe("other drawings of the keyboard give the same verdicts", () => {
  /** All sets of 2 to 5 keys with the lowest from C4 to B4 and the others at most 17 half steps above. */
  function* sets(): Generator<readonly number[]> {
    for (let lowest = 60; lowest < 72; lowest++) yield* grow([lowest], lowest + 17);
  }
  function* grow(keys: readonly number[], highest: number): Generator<readonly number[]> {
    if (keys.length >= 2) yield keys;
    if (keys.length === 5) return;
    for (let key = (keys[keys.length - 1] as number) + 1; key <= highest; key++)
      yield* grow([...keys, key], highest);
  }

  /** On white keys of 23.5 mm. */
  const scaledCad = geometryOf(
    Object.fromEntries(Object.entries(cad).map(([step, jitter]) => [step, (jitter * 23_500) / 23.65])),
  );
  const scaledPydactyl = geometryOf({ 1: -2_250, 3: 2_250, 6: -3_750, 8: -250, 10: 3_250 });
  const halfWay = geometryOf({ 1: 0, 3: 0, 6: 0, 8: 0, 10: 0 });

  function differences(at: Geometry): {
    readonly judged: number;
    readonly changed: number;
    readonly bare: number;
  } {
    let [judged, changed, bare] = [0, 0, 0];
    for (const keys of sets()) {
      for (const reach of [8, 9, 10]) {
        judged++;
        if (holds(keys, "right", reach, at) === grip(keys, "right", reach).holds) continue;
        changed++;
        if (keys.length === 2) bare++;
      }
    }
    return { judged, changed, bare };
  }

  test.each([
    ["the one used here, written a second time", usualGeometry],
    ["a CAD model's", scaledCad],
    ["pydactyl's", scaledPydactyl],
  ] as const)("%s, on 115,668 grips", (_name, at) => {
    expect(differences(at)).toEqual({ judged: 115_668, changed: 0, bare: 0 });
  });

  test("but black keys half-way between white ones, as they are often drawn, change 4,851 of them", () => {
    expect(differences(halfWay)).toEqual({ judged: 115_668, changed: 4_851, bare: 12 });
  });
});
