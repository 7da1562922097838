import type { Bar, Chart, Section } from "../chart/model.js";
import { type PlayedBar, unfold } from "../chart/unfold.js";
import { compare, divide, type Fraction, minus, plus, times, zero } from "../theory/fraction.js";
import type { Key } from "../theory/key.js";

/** A bar as it is played, in its time. */
export interface TimedBar {
  readonly index: number;
  readonly played: PlayedBar;
  readonly at: Fraction;
  /** Another section was played before it (or the same one, another time), or nothing. */
  readonly enters: boolean;
  /** How far its names are moved from those printed, on the line of fifths. */
  readonly fifths: number;
  readonly key: Key;
}

export interface Timeline {
  readonly bars: readonly TimedBar[];
  /** Whole bars before the first bar line, as many as a pickup there needs. */
  readonly leadIn: Fraction;
  readonly cut: boolean;
}

/** Bars, and slots with their notes, that are played at most: a day of music, and what a machine holds with ease. */
const [mostBars, mostEvents] = [20_000, 250_000];

/** Beats a minute where no `tempo` line says. */
const usualTempo = 80;

/** Beats a minute of a bar. */
export const tempoOf = ({ systems }: Section, { system }: Bar): number =>
  systems[system]?.tempo ?? usualTempo;

/** The chart's bars as they are played. */
export function timeline(chart: Chart, vampTimes: number): Timeline {
  const unfolded = unfold(chart, mostBars, vampTimes);
  const weights = new Map<Section, readonly number[]>();
  const all: PlayedBar[] = [];
  let events = 0;
  for (const it of unfolded.bars) {
    const { section } = it.section;
    const known = weights.get(section) ?? weightsOf(section);
    weights.set(section, known);
    events += known[it.bar.index] ?? 0;
    if (events > mostEvents) break;
    all.push(it);
  }
  const bars: TimedBar[] = [];
  let at = leadInOf(all);
  const leadIn = at;
  all.forEach((played, index) => {
    const { section, moved, verse, bar } = played;
    const before = all[index - 1];
    const enters = before === undefined || before.section !== section || before.verse !== verse;
    const fifths = moved.key.tonic - section.section.start.key.tonic;
    const { tonic, mode } = bar.home.key;
    bars.push({ index, played, at, enters, fifths, key: { tonic: tonic + fifths, mode } });
    at = plus(at, bar.length);
  });
  return { bars, leadIn, cut: unfolded.cut || all.length < unfolded.bars.length };
}

/** How many slots and notes each bar of a section has. */
function weightsOf({ bars, rows, chords }: Section): readonly number[] {
  const weights = bars.map(({ words }) => 1 + words.length);
  const add = (bar: number, more: number): void => {
    weights[bar] = (weights[bar] ?? 0) + more;
  };
  for (const { slots } of Object.values(rows)) {
    for (const { bar, struck, held } of slots) add(bar, 1 + struck.length + held.length);
  }
  for (const { bar } of chords) add(bar, 1);
  return weights;
}

/** A sequencer's bar lines should be the chart's, so what comes before the first is made up to whole bars. */
function leadInOf(bars: readonly PlayedBar[]): Fraction {
  const first = bars[0];
  if (first === undefined) return zero;
  let at = zero;
  let needed = zero;
  for (const { section, bar, entered } of bars) {
    const pickup = entered ? section.section.systems[bar.system]?.pickup : undefined;
    if (pickup !== undefined && pickup.n > 0) {
      const before = minus(pickup, at);
      if (compare(before, needed) > 0) needed = before;
    }
    at = plus(at, bar.length);
    // No pickup is as long as this but by a slip of the pen, and then it starts where the music does.
    if (compare(at, longestPickup) > 0) break;
  }
  const { n, d } = divide(needed, first.bar.length);
  return times(first.bar.length, Math.ceil(n / d));
}

const longestPickup: Fraction = { n: 64, d: 1 };
