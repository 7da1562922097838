// P. M. Fitts (1954), The information capacity of the human motor system in controlling the amplitude of movement,
// Journal of Experimental Psychology 47(6): reciprocal tapping with a stylus of one ounce, mean times in milliseconds
// by amplitude and width of the target, both in inches.
import { describe, expect, test } from "vitest";
import { whiteKeyWidth } from "../../server/src/keyboard/key-place.js";
import { travelTime } from "../../server/src/keyboard/leap.js";

const widths = [0.25, 0.5, 1, 2];
const means: readonly (readonly [amplitude: number, times: readonly number[]])[] = [
  [2, [392, 281, 212, 180]],
  [4, [484, 372, 260, 203]],
  [8, [580, 469, 357, 279]],
  [16, [731, 595, 481, 388]],
];
const points = means.flatMap(([amplitude, times]) =>
  times.map((time, i) => ({ amplitude, width: widths[i] as number, time })),
);

/** The straight line of least squares through the points, and the correlation. */
function regression(points: readonly (readonly [x: number, y: number])[]): {
  readonly base: number;
  readonly slope: number;
  readonly r: number;
} {
  const mean = (of: (point: readonly [number, number]) => number): number =>
    points.reduce((sum, point) => sum + of(point), 0) / points.length;
  const [mx, my] = [mean(([x]) => x), mean(([, y]) => y)];
  const xy = mean(([x, y]) => (x - mx) * (y - my));
  const [xx, yy] = [mean(([x]) => (x - mx) ** 2), mean(([, y]) => (y - my) ** 2)];
  const slope = xy / xx;
  return { base: my - slope * mx, slope, r: xy / Math.sqrt(xx * yy) };
}

test("the sixteen times are those of the line that was published: 12.8 + 94.7 log2(2 A / W)", () => {
  const line = regression(
    points.map(({ amplitude, width, time }) => [Math.log2((2 * amplitude) / width), time]),
  );
  expect(line.base).toBeCloseTo(12.8, 1);
  expect(line.slope).toBeCloseTo(94.7, 1);
  expect(line.r).toBeCloseTo(0.983, 3);
});

const shannon = regression(
  points.map(({ amplitude, width, time }) => [Math.log2(amplitude / width + 1), time]),
);

test("in the form log2(A / W + 1) they make 27.7 + 111.5 ID", () => {
  expect(shannon.base).toBeCloseTo(27.7, 1);
  expect(shannon.slope).toBeCloseTo(111.5, 1);
  expect(shannon.r).toBeCloseTo(0.994, 3);
});

test("a hand is given six tenths of that time, with a white key as the target", () => {
  // In white keys: 1 is log2(2), 3 is log2(4).
  const slope = travelTime(3 * whiteKeyWidth) - travelTime(whiteKeyWidth);
  expect(Math.round(slope)).toBe(Math.round(0.6 * shannon.slope));
  expect(Math.round(travelTime(whiteKeyWidth) - slope)).toBe(Math.round(0.6 * shannon.base));
});

describe("no time that is asked for is longer than Fitts's tapping takes", () => {
  test.each(points.filter(({ width }) => width === 1))("$amplitude in: $time ms", ({ amplitude, time }) => {
    // A target of an inch is 8 % wider than a white key.
    expect(travelTime(amplitude * 25_400)).toBeLessThan(time);
    expect(travelTime(amplitude * 25_400)).toBeGreaterThan(0.5 * time);
  });
});
