import { completeOnDegree } from "../theory/chord.js";
import { compare, type Fraction, zero } from "../theory/fraction.js";
import { isRedundantSign, type Key, scaleDegree } from "../theory/key.js";
import { type QualityReading, readQuality } from "../theory/quality.js";
import { type ChordTimeline, type Counting, countingAt } from "./chord-row.js";
import type { Layout } from "./layout.js";
import type { ChordEvent, System } from "./model.js";

/** What a slot's numbers count from: a chord, none, or one that can't be read. */
export type Under = Pick<Counting, "event" | "unknown">;

const plainQuality = readQuality("") as QualityReading;

const none: Under = { event: undefined, unknown: false };

const isSomething = ({ event, unknown }: Under): boolean => event !== undefined || unknown;

/** The chord sounding when a slot of a bar starts. */
export const chordInBar = (chords: ChordTimeline, bar: number, at: Fraction): Under =>
  countingAt(chords.bars[bar] ?? [], at) ?? none;

/** The chord that a pickup slot counts from: that of the chord pickup above it, else the one it leads to. */
export function chordInPickup(chords: ChordTimeline, system: System, at: Fraction): Under {
  const above = chords.pickups[system.index] ?? [];
  const first = above.find(isSomething);
  if (first !== undefined) {
    return compare(at, first.at) < 0 ? first : (countingAt(above, at) ?? first);
  }
  for (let bar = system.firstBar; bar < system.endBar; bar++) {
    const list = chords.bars[bar] ?? [];
    const atStart =
      bar === system.firstBar
        ? list.findLast((it) => compare(it.at, (list[0] as Counting).at) === 0)
        : undefined;
    const found = atStart !== undefined && isSomething(atStart) ? atStart : list.find(isSomething);
    if (found !== undefined) return found;
  }
  return none;
}

/**
 * The next chord struck after a pushed slot's start; with none left the plain chord on which the section lands. A
 * first ending leads back: with no chord left in it, the next one is the one at which its repeat starts.
 */
export function nextChord(
  chords: ChordTimeline,
  layout: Layout,
  text: string,
  { firstBar, home }: System,
  place: { readonly at: Fraction; readonly pickup: boolean; readonly bar: number },
): ChordEvent | undefined {
  let found: ChordEvent | undefined;
  for (const event of chords.events) {
    if (compare(event.at, place.at) <= 0 || (place.pickup && event.bar < firstBar)) continue;
    if (found === undefined || compare(event.at, found.at) < 0) found = event;
    // Only a pickup written after this one could still come before it.
    else if (!event.pickup) break;
  }
  const back = place.pickup ? undefined : wayBack(layout.bars, place.bar);
  if (back !== undefined && (found === undefined || found.bar > back.end)) {
    const again = chords.events.find((event) => event.bar >= back.to && !event.pickup);
    if (again !== undefined && again.bar <= back.end) return again;
  }
  return found ?? landing(layout, text, home.key);
}

/** For a bar in a first ending, the bar that ends it and the one that it goes back to. */
function wayBack(
  bars: Layout["bars"],
  bar: number,
): { readonly end: number; readonly to: number } | undefined {
  let first = bar;
  while (first > 0 && bars[first]?.repeat.ending === undefined) {
    if (bars[first]?.repeat.start || bars[first - 1]?.repeat.end) return undefined;
    first--;
  }
  if (bars[first]?.repeat.ending !== 1) return undefined;
  const end = bars.findIndex(({ index, repeat }) => index >= bar && repeat.end);
  if (end < 0) return undefined;
  let to = first;
  while (to > 0 && !bars[to]?.repeat.start && !bars[to - 1]?.repeat.end) to--;
  return { end, to: bars[to]?.repeat.start ? to : 0 };
}

function landing({ lands, bars, length }: Layout, text: string, key: Key): ChordEvent | undefined {
  if (lands === undefined) return undefined;
  const alter = isRedundantSign(key.mode, lands.degree, lands.alter) ? 0 : lands.alter;
  return {
    index: -1,
    text: text.slice(lands.span.start, lands.span.end),
    chord: {
      root: scaleDegree(key, lands.degree, alter),
      quality: completeOnDegree(plainQuality, key, lands.degree, alter),
      bass: undefined,
    },
    bassAlone: false,
    key,
    bar: bars.length,
    at: length,
    length: zero,
    span: lands.span,
    repeatedBy: undefined,
    pickup: false,
  };
}
