// R. Boyle, R. Boyle and E. Booker (2015), Pianist hand spans: gender and ethnic differences and implications for piano
// playing, Australasian Piano Pedagogy Conference (473 adult pianists), and the zones of hand span that go with it:
// A under 7.6 in, barely octaves and no ninths; B 7.6 to 8.5 in, ninths with tension and no tenths; C 8.5 to 9.4 in,
// tenths with tension; D from 9.4 in, tenths in comfort. Spans needed: octave 6.7 in, ninth 7.6 in, tenth 8.5 in.
import { describe, expect, test } from "vitest";
import { fingerSpan, widestSpan } from "../../server/src/keyboard/finger-spans.js";
import { grip } from "../../server/src/keyboard/grip.js";
import type { Hand } from "../../server/src/keyboard/hand.js";

const inch = 25_400;
/** What each white key more needs, in inches. */
const aWhiteKey = 0.9;

const needed = [
  ["an octave", 8, 6.7],
  ["a ninth", 9, 7.6],
  ["a tenth", 10, 8.5],
  ["an eleventh", 11, 8.5 + aWhiteKey],
] as const;

describe("the span that an interval needs", () => {
  test.each(needed)("a reach of %s has it, and not that of the next", (_name, reach, inches) => {
    expect(widestSpan(reach)).toBeGreaterThanOrEqual(inches * inch);
    expect(widestSpan(reach)).toBeLessThan((inches + aWhiteKey) * inch);
  });
});

const zones = [
  ["A", 8, { octave: "stretch", ninth: "no", tenth: "no" }],
  ["B", 9, { octave: "easy", ninth: "stretch", tenth: "no" }],
  ["C", 10, { octave: "easy", ninth: "easy", tenth: "stretch" }],
  ["D", 11, { octave: "easy", ninth: "easy", tenth: "easy" }],
] as const;

const whiteKeys = [0, 2, 4, 5, 7, 9, 11];
const letters = "CDEFGAB";
const intervals = [
  ["octave", 7],
  ["ninth", 8],
  ["tenth", 9],
] as const;

const octave = (degree: number): number => 12 * Math.floor(degree / 7) + (whiteKeys[degree % 7] as number);

const verdicts = zones.flatMap(([zone, reach, said]) =>
  intervals.flatMap(([interval, steps]) =>
    whiteKeys.map(
      (_, degree) =>
        [zone, interval, letters[degree] as string, said[interval], reach, degree, degree + steps] as const,
    ),
  ),
);

describe("what a hand of each zone holds of white keys", () => {
  test("are 84 verdicts", () => {
    expect(verdicts.length).toBe(84);
  });

  test.each(verdicts)("zone %s, the %s from %s: %s", (_zone, _interval, _name, said, reach, lower, upper) => {
    for (const hand of ["left", "right"] satisfies Hand[]) {
      const it = grip([48 + octave(lower), 48 + octave(upper)], hand, reach);
      expect(it.holds ? it.strain : "no").toBe(said);
    }
  });
});

// Means of the 473: men 8.9 in, women 7.9 in; a share of 76 % of the men and 13 % of the women reaches a tenth.
test.each([
  ["men", 8.9, 10],
  ["women", 7.9, 9],
] as const)("the mean span of %s, %f in, is that of a reach of %i", (_who, inches, reach) => {
  const reached = needed.filter(([, , least]) => inches >= least).map(([, number]) => number);
  expect(Math.max(...reached)).toBe(reach);
  expect(inches * inch).toBeGreaterThan(widestSpan(reach - 1));
  expect(inches * inch).toBeLessThan(widestSpan(reach + 1));
});

// R. Boyle (2013) after Farias et al. (2002): a small hand spans less than 8.5 in from 1 to 5 or 6.0 in from 2 to 5.
test.each([8, 9, 10])(
  "at reach %i the second and fifth finger reach as much of the whole as measured",
  (reach) => {
    const share = fingerSpan(2, 5, reach).widest / widestSpan(reach);
    expect(Math.abs(share - 6.0 / 8.5)).toBeLessThan(0.07);
  },
);
