import { beatLength } from "../chart/bar-time.js";
import type { Bar, Feel, Section } from "../chart/model.js";
import { compare, divide, type Fraction, fraction, minus, plus, times } from "../theory/fraction.js";

/** Where the points of one row of one bar sound: times from the bar's start, negative in a pickup. */
export type Bend = (point: Fraction) => Fraction;

/** The bend of a bar for a row that has these points, the starts and ends of its slots. */
export type Beats = (section: Section, bar: Bar, points: readonly Fraction[]) => Bend;

const straight: Bend = (point) => point;
/** In a shuffle the first half of a beat lasts twice as long as the second, by the language. */
const shuffle: Fraction = fraction(2, 1);
const half: Fraction = fraction(1, 2);
const whole: Fraction = fraction(1, 1);

/**
 * How feels bend time. A beat whose points all come from halving it is bent; one that a row parts in three stays as
 * it is written for that row, and so do meters whose beat is parted in three.
 */
export function beatsOf(swing: Fraction): Beats {
  const ratioOf = (feel: Feel): Fraction | undefined =>
    feel === "shuffle" ? shuffle : feel === "swing" ? swing : undefined;
  return (section, bar, points) => {
    const ratio = ratioOf(section.systems[bar.system]?.feel ?? "straight");
    const beat = beatLength(bar.meter);
    if (ratio === undefined || beat.n !== 1) return straight;
    const first = divide(ratio, plus(ratio, whole));
    const kept = new Set<number>();
    for (const point of points) {
      const { d } = divide(point, beat);
      if (!isPowerOfTwo(d)) kept.add(beatOf(point, beat));
    }
    return (point) => {
      const index = beatOf(point, beat);
      const start = times(beat, index);
      if (kept.has(index) || compare(point, start) === 0) return point;
      const within = divide(minus(point, start), beat);
      return plus(start, product(beat, bent(within, first)));
    };
  };
}

const beatOf = (point: Fraction, beat: Fraction): number => {
  const { n, d } = divide(point, beat);
  return Math.floor(n / d);
};

/** A place within a beat, 0 to 1, whose middle comes at `first`; each half keeps its proportions. */
function bent(within: Fraction, first: Fraction): Fraction {
  if (compare(within, half) <= 0) return times(product(within, first), 2);
  const left = times(product(minus(whole, within), minus(whole, first)), 2);
  return minus(whole, left);
}

const product = (a: Fraction, b: Fraction): Fraction => fraction(a.n * b.n, a.d * b.d);

const isPowerOfTwo = (n: number): boolean => Number.isInteger(Math.log2(n));
