import type { PitchedRow } from "../syntax/tree.js";
import { type Fraction, minus, plus } from "../theory/fraction.js";
import type { Bar, ChordEvent, PlacedSection, SlotEvent } from "./model.js";

/** The first of a list, in order of bars, that stands in this bar or a later one. */
function firstInBar(items: readonly { readonly bar: number }[], bar: number): number {
  let low = 0;
  let high = items.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((items[middle] as { readonly bar: number }).bar < bar) low = middle + 1;
    else high = middle;
  }
  return low;
}

function ofBar<T extends { readonly bar: number }>(items: readonly T[], bar: number): T[] {
  const found: T[] = [];
  for (let i = firstInBar(items, bar); i < items.length && items[i]?.bar === bar; i++)
    found.push(items[i] as T);
  return found;
}

/** What a row plays in a bar of a section, in order; or what its pickup into that bar plays. */
export function slotsIn(
  { section }: PlacedSection,
  row: PitchedRow,
  bar: number,
  pickup: boolean,
): SlotEvent[] {
  return ofBar(section.rows[row].slots, bar).filter((it) => it.pickup === pickup);
}

/** The chords struck in a bar of a section, or in the pickup into it. */
export function chordsIn({ section }: PlacedSection, bar: number, pickup: boolean): ChordEvent[] {
  return ofBar(section.chords, bar).filter((it) => it.pickup === pickup);
}

/**
 * The chord struck last at a time of a bar or before it, in written order, a second ending going on from before its
 * first; `sounds` is false after `r` or `NC`, where it has ended. Pickups don't count.
 */
export function chordAt(
  { section }: PlacedSection,
  bar: Bar | undefined,
  at: Fraction | undefined,
): { readonly event: ChordEvent; readonly sounds: boolean } | undefined {
  if (bar === undefined || at === undefined) return undefined;
  const { bars, chords } = section;
  /** How long it is since the time that is asked for, at the start of the bar that is looked at. */
  let gone = minus(at, bar.at);
  const own = ofBar(chords, bar.index).findLast((it) => !it.pickup && it.at.n * at.d <= at.n * it.at.d);
  if (own !== undefined) return { event: own, sounds: isLonger(own.length, minus(at, own.at)) };
  let index = bar.index;
  while (index > 0) {
    index = barBefore(bars, index);
    const there = bars[index];
    if (there === undefined) return undefined;
    gone = plus(gone, there.length);
    const last = ofBar(chords, index).findLast((it) => !it.pickup);
    if (last === undefined) continue;
    return { event: last, sounds: isLonger(last.length, minus(gone, minus(last.at, there.at))) };
  }
  return undefined;
}

const isLonger = (a: Fraction, b: Fraction): boolean => a.n * b.d > b.n * a.d;

/** The bar that a bar goes on from: of a second ending the one before its first. */
function barBefore(bars: readonly Bar[], index: number): number {
  if (bars[index]?.repeat.ending !== 2) return index - 1;
  let first = index - 1;
  while (first > 0 && bars[first]?.repeat.ending !== 1) first--;
  return bars[first]?.repeat.ending === 1 ? first - 1 : index - 1;
}
