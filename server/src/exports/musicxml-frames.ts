import { barLength, beatLength } from "../chart/bar-time.js";
import type { Meter } from "../chart/model.js";
import { compare, divide, type Fraction, minus, plus, times, zero } from "../theory/fraction.js";
import type { TimedBar } from "./timeline.js";

/** The time that one printed bar fills. */
export interface BarFrame {
  readonly at: Fraction;
  readonly length: Fraction;
  /** Where in a whole bar of this meter it starts: later than 0 for an upbeat. */
  readonly from: Fraction;
  readonly meter: Meter;
  /** The bar as it is played; of an upbeat the first bar, whose key and tempo it has. */
  readonly bar: TimedBar;
  /** It stands before the first bar. */
  readonly upbeat: boolean;
}

/** The printed bars: an upbeat of whole beats from `first`, the earliest thing that sounds, then the chart's own. */
export function framesOf(bars: readonly TimedBar[], first: Fraction | undefined): readonly BarFrame[] {
  const frames: BarFrame[] = [];
  const opening = bars[0];
  if (opening === undefined) return frames;
  const { meter } = opening.played.bar;
  const whole = barLength(meter);
  if (first !== undefined && compare(first, opening.at) < 0) {
    const beat = beatLength(meter);
    const { n, d } = divide(minus(opening.at, first), beat);
    let left = times(beat, Math.ceil(n / d));
    let at = minus(opening.at, left);
    while (left.n > 0) {
      const bars = divide(left, whole);
      const length = bars.d === 1 ? whole : minus(left, times(whole, Math.floor(bars.n / bars.d)));
      frames.push({ at, length, from: minus(whole, length), meter, bar: opening, upbeat: true });
      at = plus(at, length);
      left = minus(left, length);
    }
  }
  for (const bar of bars) {
    const { meter, length } = bar.played.bar;
    frames.push({ at: bar.at, length, from: zero, meter, bar, upbeat: false });
  }
  return frames;
}
