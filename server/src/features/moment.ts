import { barLength, beatLength } from "../chart/bar-time.js";
import { beatName } from "../chart/beat-name.js";
import { chordAt, chordsIn, slotsIn } from "../chart/in-bar.js";
import type { Bar, ChordEvent, Meter, Note, PlacedSection, SlotEvent, Word } from "../chart/model.js";
import type { PitchedRow } from "../syntax/tree.js";
import { compare, divide, type Fraction, minus, plus, times } from "../theory/fraction.js";

/** From the top of the sound down, as a system is mostly written. */
const rows: readonly PitchedRow[] = ["lead", "right", "left", "bass"];

/** What one row sounds at a moment. */
export interface SoundingRow {
  readonly row: PitchedRow;
  readonly slot: SlotEvent;
  /** From the lowest up; grace notes are left out. */
  readonly notes: readonly SoundingNow[];
}

export interface SoundingNow {
  readonly note: Note;
  /** It was struck before and goes on. */
  readonly held: boolean;
}

/** A moment of a section: a time in a bar, or in the pickup into it. */
export interface Moment {
  readonly placed: PlacedSection;
  readonly bar: Bar;
  readonly pickup: boolean;
  /** In whole notes from the section's first bar line. */
  readonly at: Fraction;
}

/** All rows that sound at a moment. Rows without a pickup go on, under a pickup, in the bar written before it. */
export const soundingAt = (moment: Moment): readonly SoundingRow[] =>
  rows.flatMap((row) => {
    const slot = slotAt(moment, row);
    const notes = slot === undefined ? [] : notesOf(slot, moment.at);
    return slot === undefined || notes.length === 0 ? [] : [{ row, slot, notes }];
  });

function slotAt({ placed, bar, pickup, at }: Moment, row: PitchedRow): SlotEvent | undefined {
  const covers = (slot: SlotEvent): boolean =>
    compare(slot.at, at) <= 0 && compare(at, plus(slot.at, slot.length)) < 0;
  const own = slotsIn(placed, row, bar.index, pickup).find(covers);
  if (own !== undefined || !pickup) return own;
  return slotsIn(placed, row, bar.index - 1, false).find(covers);
}

/** What a slot sounds at a time within it. */
export function notesOf(slot: SlotEvent, at: Fraction = slot.at): readonly SoundingNow[] {
  const goesOn = compare(slot.at, at) < 0;
  return [
    ...slot.held.map((note) => ({ note, held: true })),
    ...slot.struck.filter(({ grace }) => !grace).map((note) => ({ note, held: goesOn })),
  ].sort((a, b) => a.note.pitch.midi - b.note.pitch.midi);
}

/** The chord that sounds at a moment; after `r` and `NC` there is none. */
export function chordNow({ placed, bar, pickup, at }: Moment): ChordEvent | undefined {
  if (pickup) {
    const own = chordsIn(placed, bar.index, true).findLast((it) => compare(it.at, at) <= 0);
    if (own !== undefined) return own;
  }
  const found = chordAt(placed, pickup ? placed.section.bars[bar.index - 1] : bar, at);
  return found?.sounds ? found.event : undefined;
}

/** The syllables that are sung at a moment, of each verse. */
export const wordsNow = ({ bar, at }: Moment): readonly Word[] =>
  bar.words.filter((it) => compare(it.at, at) <= 0 && compare(at, plus(it.at, it.length)) < 0);

/** `Bar 3, beat 2 and`; of a pickup how far before its bar. */
export function placeWords({ bar, pickup, at }: Moment): string {
  if (!pickup) return `bar ${bar.index + 1}, ${beatName(minus(at, bar.at), bar.meter)}`;
  const from = minus(bar.at, barLength(bar.meter));
  // A pickup may be longer than the bar that it covers.
  const isInBar = compare(at, from) >= 0;
  return `pickup into bar ${bar.index + 1}${isInBar ? `, ${beatName(minus(at, from), bar.meter)}` : ""}`;
}

/** `1 beat`, `2 beats`, `half a beat`, `1 1/2 beats`, `1/3 of a beat` */
export function beatsWords(length: Fraction, meter: Meter): string {
  const beats = divide(length, beatLength(meter));
  const whole = Math.floor(beats.n / beats.d);
  const rest = minus(beats, times({ n: 1, d: 1 }, whole));
  if (rest.n === 0) return whole === 1 ? "1 beat" : `${whole} beats`;
  if (whole > 0) return `${whole} ${rest.n}/${rest.d} beats`;
  return rest.n === 1 && rest.d === 2 ? "half a beat" : `${rest.n}/${rest.d} of a beat`;
}
