import type { Note, Section, SlotEvent } from "../chart/model.js";
import type { PitchedRow } from "../syntax/tree.js";
import { sliceOf } from "../text/span.js";
import { compare, type Fraction, minus, plus, printFraction } from "../theory/fraction.js";
import type { Beats } from "./bent-time.js";
import type { TimedBar } from "./timeline.js";

/** A key that goes down, before rolls and grace notes have their times. */
export interface Struck {
  readonly note: Note;
  /** The tone that slips into it. */
  readonly grace: Note | undefined;
  readonly bar: TimedBar;
  readonly at: Fraction;
  /** Where it is let go: later with every slot that holds it. */
  end: Fraction;
  /** Alike for all tones of one roll; `undefined` where it is struck with its slot. */
  readonly roll: string | undefined;
  /** It is written as held, and struck since nothing that it could go on from was played just before. */
  readonly held: boolean;
}

/** A slot with its times from its bar's start; of a pickup they are negative. */
interface TimedSlot {
  readonly slot: SlotEvent;
  readonly at: Fraction;
  readonly end: Fraction;
  /** It is written `-`. */
  readonly holds: boolean;
}

interface RowOfSection {
  readonly bars: readonly (readonly TimedSlot[])[];
  /** By the bar that each leads to. */
  readonly pickups: ReadonlyMap<number, readonly TimedSlot[]>;
}

/** A stretch of time in which the row sounds these keys. */
interface Stretch {
  readonly at: Fraction;
  end: Fraction;
  readonly sounding: readonly Struck[];
  /** Those of them that are struck at its start. */
  readonly struck: readonly Struck[];
}

const silence: readonly Struck[] = [];

/** All that a row plays, in order. What a key is held for is what really follows it, whatever is printed after it. */
export function playRow(row: PitchedRow, bars: readonly TimedBar[], beats: Beats): readonly Struck[] {
  const known = new Map<Section, RowOfSection>();
  const played: Stretch[] = [];
  let sounding = silence;
  /** Nothing of this section has been played just before, so what is held here must be struck. */
  let isFresh = true;

  const strike = (note: Note, grace: Note | undefined, timed: TimedSlot, bar: TimedBar): Struck => ({
    note,
    grace,
    bar,
    at: plus(bar.at, timed.at),
    end: plus(bar.at, timed.end),
    roll: timed.slot.rolled ? rollName(row, timed.slot, bar) : undefined,
    held: false,
  });

  const play = (timed: TimedSlot, bar: TimedBar): void => {
    const { slot } = timed;
    const [at, end] = [plus(bar.at, timed.at), plus(bar.at, timed.end)];
    const struck: Struck[] = [];
    const now: Struck[] = [];
    if (timed.holds && (!isFresh || sounding.length > 0)) now.push(...sounding);
    else {
      let grace: Note | undefined;
      for (const note of slot.struck) {
        if (note.grace) grace = note;
        else {
          struck.push(strike(note, grace, timed, bar));
          grace = undefined;
        }
      }
      for (const note of slot.held) {
        const { midi } = note.pitch;
        const before =
          sounding.find((it) => it.note === note) ?? sounding.find((it) => keyOf(it, bar) === midi);
        if (before === undefined)
          struck.push({ ...strike(note, undefined, timed, bar), roll: undefined, held: true });
        else now.push(before);
      }
    }
    for (const it of now) it.end = end;
    now.push(...struck);
    sounding = now;
    isFresh = false;
    if (now.length > 0) played.push({ at, end, sounding: now, struck });
  };

  /** A pickup sounds in place of what the row played before, from its start on. */
  const cover = (from: Fraction): void => {
    sounding = silence;
    for (let last = played.at(-1); last !== undefined; last = played.at(-1)) {
      if (compare(last.end, from) < 0) return;
      if (compare(last.at, from) < 0) {
        sounding = last.sounding;
        for (const it of sounding) if (compare(it.end, from) > 0) it.end = from;
        last.end = from;
        return;
      }
      for (const it of last.sounding) if (compare(it.end, from) > 0) it.end = from;
      played.pop();
    }
  };

  for (const bar of bars) {
    const { section } = bar.played.section;
    const { index } = bar.played.bar;
    const timed = known.get(section) ?? rowOf(row, section, beats);
    known.set(section, timed);
    if (bar.enters) {
      sounding = silence;
      isFresh = true;
    }
    const pickup = bar.played.entered ? timed.pickups.get(index) : undefined;
    const first = pickup?.[0];
    if (pickup !== undefined && first !== undefined) {
      cover(plus(bar.at, first.at));
      isFresh = false;
      for (const it of pickup) play(it, bar);
    }
    const slots = timed.bars[index] ?? [];
    for (const it of slots) play(it, bar);
    if (slots.length === 0) {
      sounding = silence;
      isFresh = false;
    }
  }
  return played.flatMap(({ struck }) => struck);
}

/** The key that sounds, as it is printed in the section of `bar`. */
const keyOf = (it: Struck, bar: TimedBar): number =>
  it.note.pitch.midi + it.bar.played.moved.halfSteps - bar.played.moved.halfSteps;

/** Both hands roll as one where they do so at the same moment. */
const rollName = (row: PitchedRow, { at }: SlotEvent, { index }: TimedBar): string =>
  `${row === "right" || row === "left" ? "hands" : row} ${index} ${printFraction(at)}`;

function rowOf(row: PitchedRow, section: Section, beats: Beats): RowOfSection {
  const bars: SlotEvent[][] = section.bars.map(() => []);
  const pickups = new Map<number, SlotEvent[]>();
  for (const slot of section.rows[row].slots) {
    if (!slot.pickup) bars[slot.bar]?.push(slot);
    else if (pickups.has(slot.bar)) pickups.get(slot.bar)?.push(slot);
    else pickups.set(slot.bar, [slot]);
  }
  const timed = (slots: readonly SlotEvent[], bar: number): readonly TimedSlot[] => {
    const frame = section.bars[bar];
    if (frame === undefined || slots.length === 0) return [];
    const places = slots.map((slot) => minus(slot.at, frame.at));
    const ends = slots.map((slot, i) => plus(places[i] as Fraction, slot.length));
    const bend = beats(section, frame, [...places, ...ends]);
    return slots.map((slot, i) => ({
      slot,
      at: bend(places[i] as Fraction),
      end: bend(ends[i] as Fraction),
      holds: slot.kind === "hold" || sliceOf(section.source.text, slot.written) === "-",
    }));
  };
  return {
    bars: bars.map((slots, bar) => timed(slots, bar)),
    pickups: new Map([...pickups].map(([bar, slots]) => [bar, timed(slots, bar)])),
  };
}
