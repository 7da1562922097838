import { beatLength } from "../chart/bar-time.js";
import type { SoundView } from "../exports/page-data.js";

/** When a time of the chart sounds, in seconds from its first sound at the written tempo. */
export interface Timing {
  /** Seconds of a time in whole notes. */
  readonly secondsOf: (whole: number) => number;
  /** Where each bar starts and, last, where all ends; seconds. */
  readonly starts: readonly number[];
  /** The bar that sounds at a time; the first one before it starts. */
  readonly barAt: (seconds: number) => number;
  readonly end: number;
}

/** Less than half a sample of sound, in seconds: two times that lie so near are one. */
export const tiny = 1e-6;

/** Seconds are summed bar by bar from exact times, never note by note. */
export function timingOf({ bars, n, d }: SoundView): Timing {
  const count = bars.n.length;
  const wholes = bars.n.map((it, i) => it / (bars.d[i] as number));
  const paces = bars.tempo.map((tempo, i) => {
    const beat = beatLength({ beats: bars.beats[i] as number, unit: bars.unit[i] as number });
    // Seconds a whole note.
    return (60 / tempo) * (beat.d / beat.n);
  });
  const starts: number[] = [];
  let at = (wholes[0] ?? 0) * (paces[0] ?? 0);
  for (let i = 0; i < count; i++) {
    starts.push(at);
    const next = wholes[i + 1] ?? n / d;
    at += (next - (wholes[i] as number)) * (paces[i] as number);
  }
  const end = at;
  starts.push(end);
  const lastBefore = (list: readonly number[], value: number): number => {
    let [low, high] = [0, count];
    while (low < high) {
      const middle = (low + high) >> 1;
      if ((list[middle] as number) <= value) low = middle + 1;
      else high = middle;
    }
    return Math.max(0, low - 1);
  };
  return {
    starts,
    end,
    barAt: (seconds) => lastBefore(starts, seconds),
    secondsOf: (whole) => {
      if (count === 0) return 0;
      const bar = lastBefore(wholes, whole);
      return (starts[bar] as number) + (whole - (wholes[bar] as number)) * (paces[bar] as number);
    },
  };
}
