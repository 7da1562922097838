import { describe, expect, test } from "vitest";
import { grip } from "../../server/src/keyboard/grip.js";
import { placeOf } from "../../server/src/keyboard/key-place.js";

const names = ["C", "Db", "D", "Eb", "E", "F", "F#", "G", "Ab", "A", "Bb", "B"];

// Worked values of the model: widths in mm by the lower key, found by another program. The white tenths are the
// shortest major ones and the longest minor ones.
const widths: Readonly<Record<string, readonly [halfSteps: number, byLowerKey: string]>> = {
  "minor ninth": [13, "172.9 F Bb; 173.9 C Eb; 176.3 G Ab; 178.6 Db D; 179.6 F# A; 188.0 E B"],
  "major ninth": [14, "188.0 C D F G A; 191.4 F# Ab; 192.7 Db; 196.4 E Bb; 197.4 Eb B"],
  "minor tenth": [15, "199.8 F Ab; 202.1 C Db; 203.1 F# G; 205.8 Eb Bb; 211.5 D E A B"],
  "major tenth": [16, "211.5 C F G; 218.2 F#; 219.9 D Bb; 220.9 Eb A; 223.3 E Ab; 225.6 Db B"],
};

const rows = Object.entries(widths).flatMap(([name, [halfSteps, byLowerKey]]) =>
  byLowerKey.split("; ").flatMap((group) => {
    const [width = "", ...keys] = group.split(" ");
    return keys.map((key) => [name, key, width, halfSteps] as const);
  }),
);

describe("the widths of wide intervals", () => {
  test("are twelve of each", () => {
    for (const name of Object.keys(widths))
      expect(new Set(rows.filter(([it]) => it === name).map(([, key]) => key)).size).toBe(12);
  });

  test.each(rows)("the %s from %s is %s mm", (_name, key, width, halfSteps) => {
    const lower = 48 + names.indexOf(key);
    expect(((placeOf(lower + halfSteps) - placeOf(lower)) / 1000).toFixed(1)).toBe(width);
  });

  test("major sevenths lie between 141 mm, from C and F, and 156.1 mm, from F# and B", () => {
    const sevenths = names.map((_, step) => (placeOf(48 + step + 11) - placeOf(48 + step)) / 1000);
    const [least, most] = [Math.min(...sevenths), Math.max(...sevenths)];
    expect(least).toBe(141);
    expect(most.toFixed(1)).toBe("156.1");
    expect(names.filter((_, step) => sevenths[step] === least)).toEqual(["C", "F"]);
    expect(names.filter((_, step) => sevenths[step] === most)).toEqual(["F#", "B"]);
  });

  test("the tenth of E♭ is 9.4 mm wider than that of C, the tenth of B 14.1 mm", () => {
    const tenth = (lower: number): number => placeOf(lower + 16) - placeOf(lower);
    expect(((tenth(51) - tenth(48)) / 1000).toFixed(1)).toBe("9.4");
    expect(((tenth(47) - tenth(48)) / 1000).toFixed(1)).toBe("14.1");
  });
});

// Of the twelve transpositions, how many a hand holds at reach 7, 8, 9, 10 and 11.
const holding: readonly (readonly [name: string, halfSteps: number, ofTwelve: readonly number[]])[] = [
  ["major seventh", 11, [8, 12, 12, 12, 12]],
  ["octave", 12, [0, 12, 12, 12, 12]],
  ["minor ninth", 13, [0, 6, 12, 12, 12]],
  ["major ninth", 14, [0, 0, 12, 12, 12]],
  ["minor tenth", 15, [0, 0, 2, 12, 12]],
  ["major tenth", 16, [0, 0, 0, 10, 12]],
  ["perfect eleventh", 17, [0, 0, 0, 0, 12]],
];
const counts = holding.flatMap(([name, halfSteps, ofTwelve]) =>
  ofTwelve.map((count, i) => [name, 7 + i, count, halfSteps] as const),
);

test.each(counts)("of twelve %ss a hand of reach %i holds %i", (_name, reach, count, halfSteps) => {
  for (const hand of ["left", "right"] as const) {
    const held = names.filter((_, step) => grip([48 + step, 48 + step + halfSteps], hand, reach).holds);
    expect(held.length).toBe(count);
  }
});
