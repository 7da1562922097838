import { expect, test } from "vitest";
import { fingerSpan } from "../../server/src/keyboard/finger-spans.js";
import type { Finger } from "../../server/src/keyboard/hand.js";
import { placeOf } from "../../server/src/keyboard/key-place.js";

// Worked values of the model: limits in mm at reach 8, 9 and 10, each with the widest interval in half steps that two
// fingers hold from all twelve keys, and from at least one.
const table = `
1-2 | 130.00 9/9 | 130.00 9/9 | 141.75 10/11
1-3 | 153.50 10/11 | 177.00 12/13 | 188.75 13/14
1-4 | 165.25 12/12 | 188.75 13/14 | 200.50 14/15
1-5 | 177.00 12/13 | 200.50 14/15 | 224.00 15/16
2-3 | 83.00 5/6 | 94.75 6/7 | 94.75 6/7
2-4 | 106.50 7/8 | 106.50 7/8 | 106.50 7/8
2-5 | 130.00 9/9 | 153.50 10/11 | 153.50 10/11
3-4 | 59.50 3/4 | 59.50 3/4 | 59.50 3/4
3-5 | 106.50 7/8 | 106.50 7/8 | 106.50 7/8
4-5 | 83.00 5/6 | 83.00 5/6 | 83.00 5/6
`;

const rows = table
  .trim()
  .split("\n")
  .flatMap((line) => {
    const [pair = "", ...cells] = line.split(" | ");
    return cells.map((cell, i) => [pair, 8 + i, ...cell.split(" ")] as [string, number, string, string]);
  });

const twelve = Array.from({ length: 12 }, (_, i) => 60 + i);

test.each(rows)("%s at reach %i holds %s mm, %s half steps", (pair, reach, limit, halfSteps) => {
  const [lower, upper] = pair.split("-").map(Number) as [Finger, Finger];
  const { widest } = fingerSpan(lower, upper, reach);
  expect((widest / 1000).toFixed(2)).toBe(limit);
  const most = twelve.map((key) => {
    let above = 0;
    while (placeOf(key + above + 1) - placeOf(key) <= widest) above++;
    return above;
  });
  expect(`${Math.min(...most)}/${Math.max(...most)}`).toBe(halfSteps);
});

test.each([
  [7, 153.5],
  [8, 177],
  [9, 200.5],
  [10, 224],
  [11, 247.5],
  [12, 271],
])("beyond the three hands the reach grows on: %i holds %f mm", (reach, limit) => {
  expect(fingerSpan(1, 5, reach).widest).toBe(limit * 1000);
  expect(fingerSpan(1, 5, reach).widest).toBe((reach - 1) * 23_500 + 12_500);
});

const pairs = [12, 13, 14, 15, 23, 24, 25, 34, 35, 45].map(
  (it) => [Math.floor(it / 10), it % 10] as [Finger, Finger],
);

/** How near any two keys come to a limit, in micrometres. */
function nearest(reach: number): number {
  let least = Number.POSITIVE_INFINITY;
  for (const pair of pairs) {
    for (const key of twelve) {
      for (let above = 1; above <= 24; above++) {
        const width = placeOf(key + above) - placeOf(key);
        least = Math.min(least, Math.abs(width - fingerSpan(...pair, reach).widest));
      }
    }
  }
  return least;
}

test.each([8, 9, 10])("no two keys lie on the edge at reach %i", (reach) => {
  expect(nearest(reach)).toBeGreaterThanOrEqual(250);
});

test("at reach 11 F♯ to B♭ comes within a tenth of a millimetre", () => {
  expect(Math.abs(placeOf(82) - placeOf(66) - fingerSpan(1, 4, 11).widest)).toBeLessThan(100);
  expect(nearest(11)).toBeLessThan(100);
});
