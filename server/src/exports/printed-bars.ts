import { barLength } from "../chart/bar-time.js";
import type { PlacedSection } from "../chart/model.js";
import { divide, minus, plus, times, zero } from "../theory/fraction.js";
import type { BarFrame } from "./musicxml-frames.js";
import type { TimedBar } from "./timeline.js";

/** The bars of a section as they stand on paper, and the printed bars that they fill. */
export interface PrintedBars {
  readonly bars: readonly TimedBar[];
  readonly frames: readonly BarFrame[];
}

/**
 * A section as it is written: each bar once and in order, whatever its repeats and the form play, in its own key. The
 * pickup of a system stands before its first bar, in time of its own.
 */
export function printedBars(placed: PlacedSection): PrintedBars {
  const { section } = placed;
  const bars: TimedBar[] = [];
  const frames: BarFrame[] = [];
  let at = zero;
  section.bars.forEach((bar, index) => {
    const { meter, length } = bar;
    const system = section.systems[bar.system];
    const pickup = system?.firstBar === index ? system.pickup : zero;
    const start = plus(at, pickup);
    const isAfterOthers = section.plays.some(
      ({ beforeBar }, i) => beforeBar === index && placed.plays[i] !== undefined,
    );
    const timed: TimedBar = {
      index,
      played: {
        section: placed,
        bar,
        moved: { key: section.start.key, halfSteps: 0 },
        verse: 1,
        entered: true,
        vampEnds: false,
      },
      at: start,
      // What is held into it doesn't come from the bar that is printed before it.
      enters: index === 0 || bar.repeat.ending === 2 || isAfterOthers,
      fifths: 0,
      key: bar.home.key,
    };
    bars.push(timed);
    if (pickup.n > 0) {
      const whole = barLength(meter);
      const { n, d } = divide(pickup, whole);
      const from = minus(times(whole, Math.ceil(n / d)), pickup);
      frames.push({ at, length: pickup, from, meter, bar: timed, upbeat: true });
    }
    frames.push({ at: start, length, from: zero, meter, bar: timed, upbeat: false });
    at = plus(start, length);
  });
  return { bars, frames };
}
