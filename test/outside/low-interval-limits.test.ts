// Low interval limits: (1) the usual table of arrangers (G. Lindsay, Jazz Arranging Techniques; R. Lowell and
// K. Pullig, Arranging for Large Jazz Ensemble), (2) a published variant (Sweetwater inSync) and (3) the first
// percentile in 6,462 voicings of professional piano arrangements (Chord Jazzification data set, ISMIR 2020).
// MIDI of the lower note by interval in half steps; null: no limit or not given.
import { expect, test } from "vitest";
import { lowestClear } from "../../server/src/theory/low-intervals.js";

type Row = readonly [
  interval: string,
  halfSteps: number,
  usual: number | null,
  variant: number | null,
  played: number,
];
const rows: readonly Row[] = [
  ["m2", 1, 52, 52, 51],
  ["M2", 2, 51, 51, 51],
  ["m3", 3, 48, 48, 48],
  ["M3", 4, 46, 47, 47],
  ["P4", 5, 46, 45, 43],
  ["tritone", 6, 46, 35, 43],
  ["P5", 7, 34, 37, 35],
  ["m6", 8, 43, 41, 40],
  ["M6", 9, 41, 41, 39],
  ["m7", 10, 41, 41, 40],
  ["M7", 11, 41, 41, 37],
  ["P8", 12, null, null, 30],
  ["m9", 13, 40, null, 40],
  ["M9", 14, 39, null, 37],
  ["m10", 15, 36, null, 36],
  ["M10", 16, 34, null, 34],
];

test.each(rows)(
  "%s (%i half steps) is clear from %s up, as in the usual table",
  (_name, halfSteps, usual) => {
    expect(lowestClear(halfSteps) ?? null).toBe(usual);
  },
);

// Difference: the variant lets the tritone down to B1, eleven half steps lower than every other source.
const alike = rows.filter(([name, , , variant]) => variant !== null && name !== "tritone");

test.each(alike)(
  "%s lies within three half steps of the published variant",
  (_name, halfSteps, _usual, variant) => {
    expect(Math.abs((lowestClear(halfSteps) ?? 0) - (variant ?? 0))).toBeLessThanOrEqual(3);
  },
);

const limited = rows.filter(([, , usual]) => usual !== null);

test.each(limited)(
  "%s lies within four half steps of what professionals play",
  (_name, halfSteps, _usual, _v, played) => {
    expect(Math.abs((lowestClear(halfSteps) ?? 0) - played)).toBeLessThanOrEqual(4);
  },
);

test.each([0, 12, 17, 19, 24])("%i half steps have no limit", (halfSteps) => {
  expect(lowestClear(halfSteps)).toBeUndefined();
});
