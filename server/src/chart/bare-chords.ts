import { type Chord, toneInChord } from "../theory/chord.js";
import { compare, type Fraction, plus } from "../theory/fraction.js";
import { pitchClass } from "../theory/note-name.js";
import { guideTones } from "../theory/quality.js";
import type { ToneNumber } from "../theory/tone-number.js";
import { handOf } from "./home-octave.js";
import { rowIn } from "./layout.js";
import type { ChordEvent, Note, Section, SlotEvent, System } from "./model.js";

/** A chord for its whole length: a bass alone (`/7`) is the chord before it, which goes on. */
export interface WholeChord {
  /** As it is struck first, and with every bass alone that follows. */
  readonly event: ChordEvent;
  readonly events: readonly ChordEvent[];
  readonly end: Fraction;
}

/** A chord that the right hand plays, and nobody all of its guide tones. */
export interface BareChord extends WholeChord {
  /** The third and the seventh, as the symbol promises them, of which nothing is heard. */
  readonly missing: readonly ToneNumber[];
}

/** The chords of a section in order of time, each for its whole length. */
export function wholeChords({ chords }: Section): readonly WholeChord[] {
  const whole: WholeChord[] = [];
  for (let i = 0; i < chords.length; ) {
    const end = endOfWhole(chords, i);
    whole.push(wholeOf(chords.slice(i, end)));
    i = end;
  }
  return whole;
}

/** Behind the last of the basses alone that follow the chord at `first`. */
function endOfWhole(chords: readonly ChordEvent[], first: number): number {
  let end = first + 1;
  while (chords[end]?.bassAlone === true) end++;
  return end;
}

function wholeOf(events: readonly ChordEvent[]): WholeChord {
  const event = events[0] as ChordEvent;
  const { at, length } = events[events.length - 1] as ChordEvent;
  return { event, events, end: plus(at, length) };
}

/**
 * Every chord that the `right` row plays and whose third or seventh, as its symbol promises them, neither the hands nor
 * the bass play while it lasts. A chord over which the right hand rests is nobody's to voice, as one in a system that
 * has no such row. Slots that don't `stand` count as if they weren't there.
 */
export function bareChords(
  section: Section,
  stands: (slot: SlotEvent) => boolean = () => true,
): readonly BareChord[] {
  const isJudged = section.systems.map(isWhole);
  if (!isJudged.includes(true)) return [];
  const under = tonesUnder(section, stands);
  const found: BareChord[] = [];
  let playing: readonly Playing[] | undefined;
  let from = 0;
  const { chords } = section;
  let next = 0;
  while (next < chords.length) {
    const first = next;
    next = endOfWhole(chords, first);
    const event = chords[first] as ChordEvent;
    const { chord, at, bar } = event;
    if (isJudged[section.bars[bar]?.system ?? -1] !== true) continue;
    const wanted = wantedIn(chord);
    let heard = 0;
    let voiced = 0;
    for (let i = first; i < next; i++) {
      const { index } = chords[i] as ChordEvent;
      heard |= under.all[index] ?? 0;
      voiced |= under.right[index] ?? 0;
    }
    if ((heard & wanted.all) === wanted.all) continue;
    const whole = wholeOf(chords.slice(first, next));
    const { end } = whole;
    // What is struck under it is not enough: then it may be held into it.
    playing ??= played(section, stands);
    while (from < playing.length && compare((playing[from] as Playing).until, at) <= 0) from++;
    let isUnread = false;
    for (let i = from; i < playing.length && compare((playing[i] as Playing).slot.at, end) < 0; i++) {
      const it = playing[i] as Playing;
      const { slot } = it;
      if (!isHeardWith(whole, it)) continue;
      isUnread ||= slot.kind === "unread";
      const tones = tonesOf(slot);
      heard |= tones;
      if (slot.row === "right" && !isOfAnotherPickup(slot, event)) voiced |= tones;
    }
    if (isUnread || voiced === 0) continue;
    const missing = wanted.tones.filter(({ bit }) => (heard & bit) === 0).map(({ n }) => n);
    if (missing.length > 0) found.push({ ...whole, missing });
  }
  return found;
}

/** What sounds from one moment to another. */
export interface Sounding {
  readonly at: Fraction;
  readonly until: Fraction;
  readonly pushed: boolean;
  /** What its numbers count from. */
  readonly chord: ChordEvent | undefined;
}

/** Whether what sounds there is heard with a chord: while the chord lasts, or pushed before it. */
export const isHeardWith = (
  { event, events, end }: WholeChord,
  { at, until, pushed, chord }: Sounding,
): boolean =>
  pushed
    ? chord !== undefined && events.includes(chord)
    : compare(at, end) < 0 && compare(until, event.at) > 0;

/** A right hand stands there, every row can be read, and all have the same bars: else the chords may stand elsewhere. */
const isWhole = (system: System): boolean =>
  !system.unread &&
  rowIn(system, "right") !== undefined &&
  system.rows.every(({ line }) => line.bars.length === system.endBar - system.firstBar);

/**
 * A pickup sounds in place of its own row only: a hand without one goes on with the bar that a chord's pickup covers,
 * and its own pickup leads to a later chord than the one that it sounds over.
 */
const isOfAnotherPickup = (slot: SlotEvent, event: ChordEvent): boolean =>
  (event.pickup && slot.bar < event.bar) || (slot.pickup && slot.bar > event.bar);

/** The tones that are struck for each chord, by its index: under it, or pushed before it. */
interface Under {
  /** By the hands and the bass. */
  readonly all: readonly number[];
  /** By the `right` row alone. */
  readonly right: readonly number[];
}

function tonesUnder({ systems, rows, chords }: Section, stands: (slot: SlotEvent) => boolean): Under {
  const all = new Array<number>(chords.length).fill(0);
  const right = new Array<number>(chords.length).fill(0);
  const heard = [rows.right, rows.left, rows.bass];
  if (systems.some((system) => handOf("lead", system.rows) === "right")) heard.push(rows.lead);
  for (const row of heard) {
    for (const slot of row.slots) {
      const { chord } = slot;
      if (chord === undefined || chord.index < 0) continue;
      if ((row === rows.lead && slot.hand !== "right") || !stands(slot)) continue;
      // A pickup counts from the chord that it leads to, and is over before it comes, unless it is pushed.
      if (slot.pickup !== chord.pickup && !slot.pushed) continue;
      const tones = tonesOf(slot);
      const { index } = chord;
      all[index] = (all[index] ?? 0) | tones;
      if (row === rows.right) right[index] = (right[index] ?? 0) | tones;
    }
  }
  return { all, right };
}

interface Wanted {
  readonly tones: readonly { readonly n: ToneNumber; readonly bit: number }[];
  /** The bits of them all. */
  readonly all: number;
}

/** Equal texts share their chord. */
const known = new WeakMap<Chord, Wanted>();

function wantedIn(chord: Chord): Wanted {
  let wanted = known.get(chord);
  if (wanted === undefined) {
    const tones = guideTones(chord.quality).map((n) => ({ n, bit: bitOf(toneInChord(chord, n)) }));
    wanted = { tones, all: tones.reduce((sum, { bit }) => sum | bit, 0) };
    known.set(chord, wanted);
  }
  return wanted;
}

/** A set of tones is a number with a bit for each of the twelve. */
const bitOf = (fifths: number): number => 1 << pitchClass(fifths);

function tonesOf(slot: SlotEvent): number {
  const { placed } = slot;
  if (placed !== undefined && (!placed.holds || slot.held.length === 0)) return placed.classes;
  let tones = 0;
  for (const { pitch } of slot.struck) tones |= bitOf(pitch.fifths);
  for (const note of slot.held) if (!isAhead(note, slot)) tones |= bitOf(note.pitch.fifths);
  return tones;
}

/** Pushed, and its chord is still to come. */
const isAhead = ({ pushed, chord }: Note, slot: SlotEvent): boolean =>
  pushed && chord !== undefined && chord !== slot.chord && compare(chord.at, slot.at) > 0;

interface Playing extends Sounding {
  readonly slot: SlotEvent;
}

/** What hands and bass do, in order of time. The melody counts where a hand plays it. */
function played({ rows }: Section, stands: (slot: SlotEvent) => boolean): readonly Playing[] {
  const slots = [...rows.right.slots, ...rows.left.slots, ...rows.bass.slots];
  for (const slot of rows.lead.slots) if (slot.hand === "right") slots.push(slot);
  return slots
    .filter(stands)
    .map((slot) => ({
      slot,
      at: slot.at,
      until: plus(slot.at, slot.length),
      pushed: slot.pushed,
      chord: slot.chord,
    }))
    .sort((a, b) => compare(a.at, b.at));
}
