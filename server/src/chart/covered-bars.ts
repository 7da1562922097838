import { compare, type Fraction, printFraction } from "../theory/fraction.js";
import type { Chart, PlacedSection, System } from "./model.js";

/**
 * For each section the systems that have a pickup, each with the length of the bar that it covers: the one played
 * just before, the shortest where the form comes there in several ways, and the section's own first bar where
 * nothing is played before.
 */
export function coveredBars(chart: Chart): ReadonlyMap<PlacedSection, ReadonlyMap<System, Fraction>> {
  const covered = new Map<PlacedSection, Map<System, Fraction>>();
  /** Where each section leads to from a bar of this length, so that it is entered once from each. */
  const known = new Map<PlacedSection, Map<string, Fraction | undefined>>();

  const cover = (placed: PlacedSection, system: System, bar: Fraction): void => {
    const bars = covered.get(placed) ?? new Map<System, Fraction>();
    covered.set(placed, bars);
    const before = bars.get(system);
    if (before === undefined || compare(bar, before) < 0) bars.set(system, bar);
  };

  /** Plays a section after a bar of length `before`; gives the length of the bar that it ends with. */
  const play = (placed: PlacedSection, before: Fraction | undefined): Fraction | undefined => {
    const ways = known.get(placed) ?? new Map<string, Fraction | undefined>();
    known.set(placed, ways);
    const way = before === undefined ? "" : printFraction(before);
    if (ways.has(way)) return ways.get(way);
    // A section that plays itself is left out there.
    ways.set(way, before);
    const { section, plays } = placed;
    let last = before;
    let next = 0;
    const playUntil = (bar: number): void => {
      for (; next < plays.length && (section.plays[next]?.beforeBar ?? 0) <= bar; next++) {
        const target = plays[next];
        if (target === undefined) continue;
        last = play(target, last);
        if ((section.plays[next]?.item.times ?? 1) > 1) last = play(target, last);
      }
    };
    for (const system of section.systems) {
      const first = section.bars[system.firstBar];
      if (first === undefined || system.endBar === system.firstBar) continue;
      playUntil(system.firstBar);
      if (system.pickup.n > 0) cover(placed, system, last ?? first.length);
      last = first.length;
    }
    playUntil(section.bars.length);
    ways.set(way, last);
    return last;
  };

  let last: Fraction | undefined;
  for (const { section, times } of chart.form) {
    last = play(section, last);
    if (times > 1) last = play(section, last);
  }
  for (const placed of chart.sections) if (!known.has(placed)) play(placed, undefined);
  return covered;
}
