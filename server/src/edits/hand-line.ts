import { barLength, leavesOf } from "../chart/bar-time.js";
import { handGrip } from "../chart/hand-grips.js";
import { chordAt, chordsIn, slotsIn } from "../chart/in-bar.js";
import { pickupLength, rowIn } from "../chart/layout.js";
import type { Bar, ChordEvent, PlacedSection, SlotEvent, System } from "../chart/model.js";
import type { Hand } from "../keyboard/hand.js";
import { isOnKeyboard } from "../keyboard/keyboard-range.js";
import type { PitchedRow, Slot } from "../syntax/tree.js";
import { sliceOf } from "../text/span.js";
import { compare, type Fraction, isEqual, minus, plus } from "../theory/fraction.js";
import type { Pitch } from "../theory/pitch.js";
import { standsAgainst } from "../theory/stands-against.js";

/** What a hand does from one moment of a section to the next at which it does something else. */
export interface Stretch {
  readonly hand: Hand;
  readonly system: number;
  readonly bar: number;
  readonly pickup: boolean;
  /** From the section's first bar line. */
  readonly at: Fraction;
  readonly until: Fraction;
  /** `open`: its keys are to be found. `written`: it strikes what stands there. */
  readonly kind: "open" | "written" | "rest";
  /** What its numbers count from. */
  readonly chord: ChordEvent | undefined;
  /** The top voice that it keeps; only where it is open. */
  readonly melody: Pitch | undefined;
  /** What sounds in it as it is written, from the lowest key up. */
  readonly pitches: readonly Pitch[];
  /** The slot that it is, or that it takes the place of; `undefined` in a bar that is written whole. */
  readonly slot: SlotEvent | undefined;
}

/** Which bars and slots of a hand's row are to be found. */
export interface Choice {
  /** Whether a bar, or the pickup into it, is written whole: the pickup of the chords, else of a melody that is followed. */
  readonly whole: (bar: number, pickup: boolean) => boolean;
  readonly slot: (slot: SlotEvent) => boolean;
  /** Whether a chord is struck under each note of the melody, not only where the chord changes. */
  readonly followsMelody: boolean;
  /** Whether a chord that goes on is struck anew at the start of a bar: the other hand turns there to what is written. */
  readonly strikesAnew: (bar: number) => boolean;
}

/** Nothing is to be found. */
export const asWritten: Choice = {
  whole: () => false,
  slot: () => false,
  followsMelody: false,
  strikesAnew: () => false,
};

const melodyRow: Readonly<Record<Hand, PitchedRow>> = { left: "bass", right: "lead" };

/** What a hand does through a section, in written order. */
export function handLine(placed: PlacedSection, hand: Hand, choice: Choice): readonly Stretch[] {
  const { section } = placed;
  const stretches: Started[] = [];
  for (const system of section.systems) {
    const melody = rowIn(system, hand) === undefined;
    for (let bar = system.firstBar; bar < system.endBar; bar++) {
      for (const pickup of bar === system.firstBar ? [true, false] : [false]) {
        const place = { placed, hand, system, bar, pickup, choice };
        if (choice.whole(bar, pickup)) stretches.push(...wholeBar(place, stretches.at(-1)));
        else stretches.push(...writtenBar(place, melody ? melodyRow[hand] : hand));
      }
    }
  }
  return timed(stretches, section.length);
}

/**
 * What each of some stretches, in written order, lasts until. A pickup doesn't end what is in the bar that it covers:
 * it sounds there only when its system is entered from before.
 */
export function timed(stretches: readonly Started[], end: Fraction): readonly Stretch[] {
  const found: Stretch[] = [];
  let [next, nextInBar] = [end, end];
  for (const it of [...stretches].reverse()) {
    found.push({ ...it, until: it.pickup ? next : nextInBar });
    next = it.at;
    if (!it.pickup) nextInBar = it.at;
  }
  return found.reverse();
}

interface Place {
  readonly placed: PlacedSection;
  readonly hand: Hand;
  readonly system: System;
  readonly bar: number;
  readonly pickup: boolean;
  readonly choice: Choice;
}

/** How long it lasts is known from what follows it. */
export type Started = Omit<Stretch, "until">;

function writtenBar(
  { placed, hand, system, bar, pickup, choice }: Place,
  row: PitchedRow,
): readonly Started[] {
  const { text } = placed.section.source;
  const own = slotsIn(placed, row, bar, pickup).filter((slot) => slot.hand === hand);
  const found: Started[] = [];
  const base = { hand, system: system.index, bar, pickup };
  if (own.length === 0 && !pickup)
    found.push({
      ...base,
      at: barAt(placed, bar).at,
      kind: "rest",
      chord: undefined,
      melody: undefined,
      pitches: [],
      slot: undefined,
    });
  for (const slot of own) {
    const { at, chord } = slot;
    // What goes on belongs to the stretch before it, whatever that becomes.
    if (slot.kind === "hold" || sliceOf(text, slot.written) === "-") continue;
    const isOpen = choice.slot(slot) && slot.kind === "stack" && chord !== undefined;
    const pitches = slot.kind === "stack" ? handGrip(slot).notes.map(({ pitch }) => pitch) : [];
    found.push({
      ...base,
      at,
      kind: isOpen ? "open" : pitches.length > 0 ? "written" : "rest",
      chord,
      melody: isOpen && hand === "right" ? melodyAt(placed, bar, pickup, at) : undefined,
      pitches,
      slot,
    });
  }
  return found;
}

/** A bar that is written whole: a voicing for each chord, a rest where none sounds. */
function wholeBar(place: Place, before: Started | undefined): readonly Started[] {
  const { placed, hand, system, bar, pickup, choice } = place;
  if (pickup && chordSlots(placed, system, bar, true).slots.length === 0) return melodyAlone(place);
  const found: Started[] = [];
  const base = { hand, system: system.index, bar, pickup, pitches: [], slot: undefined };
  let last = before;
  for (const at of turnsIn(place)) {
    const sounding = soundingAt(placed, bar, pickup, at);
    const isNew = isStruckAt(placed, bar, pickup, at) || (choice.followsMelody && isSungAt(place, at));
    // A chord that goes on is held, if this row has struck it and nothing comes back here from elsewhere.
    const goesOn =
      sounding !== undefined &&
      !isNew &&
      last?.kind === "open" &&
      last.slot === undefined &&
      last.chord === sounding;
    const isStart = isEqual(at, barAt(placed, bar).at);
    if (goesOn && !(isStart && (isComeBackTo(placed, bar) || choice.strikesAnew(bar)))) continue;
    if (sounding === undefined && last?.kind === "rest" && last.bar === bar && last.pickup === pickup)
      continue;
    const it: Started = {
      ...base,
      at,
      kind: sounding === undefined ? "rest" : "open",
      chord: sounding,
      melody: sounding && hand === "right" ? melodyAt(placed, bar, pickup, at) : undefined,
    };
    found.push(it);
    last = it;
  }
  return found;
}

/** The melody of a pickup in which no chord is struck; the left hand doubles it an octave lower. */
function melodyAlone({ placed, hand, system, bar }: Place): readonly Started[] {
  const base = { hand, system: system.index, bar, pickup: true, melody: undefined, slot: undefined };
  return slotsIn(placed, "lead", bar, true).flatMap((slot): readonly Started[] => {
    if (slot.kind === "hold") return [];
    const top = isSung(slot) ? handGrip(slot).notes.at(-1)?.pitch : undefined;
    const own = top && (hand === "left" ? { fifths: top.fifths, midi: top.midi - 12 } : top);
    const isFree = own !== undefined && isOnKeyboard(own.midi) && !isAgainst(own, slot.chord);
    const pitches = isFree ? [own] : [];
    return [
      { ...base, at: slot.at, kind: pitches.length === 0 ? "rest" : "written", chord: slot.chord, pitches },
    ];
  });
}

const isAgainst = (pitch: Pitch, event: ChordEvent | undefined): boolean =>
  event !== undefined && standsAgainst(pitch, event.chord);

const barAt = ({ section }: PlacedSection, bar: number): Bar => section.bars[bar] as Bar;

/** The moments of a bar at which what sounds may change, in order; its start among them. */
function turnsIn({ placed, system, bar, pickup, choice }: Place): readonly Fraction[] {
  const start = startOf(placed, system, bar, pickup);
  const turns: Fraction[] = start === undefined ? [] : [start];
  const add = (at: Fraction): void => {
    if (!turns.some((it) => isEqual(it, at))) turns.push(at);
  };
  for (const { at } of chordsIn(placed, bar, pickup)) add(at);
  const { slots, from, length } = chordSlots(placed, system, bar, pickup);
  for (const { content, at } of leavesOf(slots, length) ?? [])
    if (content.kind !== "hold") add(plus(from, at));
  if (choice.followsMelody)
    for (const slot of slotsIn(placed, "lead", bar, pickup)) if (isSung(slot)) add(slot.at);
  return turns.sort(compare);
}

/** When a bar starts, or the pickup of its chords. */
function startOf(placed: PlacedSection, system: System, bar: number, pickup: boolean): Fraction | undefined {
  if (!pickup) return barAt(placed, bar).at;
  const { slots, from } = chordSlots(placed, system, bar, true);
  return slots.length === 0 ? undefined : from;
}

/** The slots of the chords in a bar or in the pickup into it, as they are written; of `%` those that it repeats. */
export function chordSlots(
  { section }: PlacedSection,
  system: System,
  bar: number,
  pickup: boolean,
): { readonly slots: readonly Slot[]; readonly from: Fraction; readonly length: Fraction } {
  return rowSlots(section.systems, "chords", system, section.bars[bar] as Bar, pickup);
}

/** The same of any row. */
export function rowSlots(
  systems: readonly System[],
  row: PitchedRow | "chords",
  system: System,
  bar: Bar,
  pickup: boolean,
): { readonly slots: readonly Slot[]; readonly from: Fraction; readonly length: Fraction } {
  const line = rowIn(system, row)?.line;
  if (pickup) {
    const length = line === undefined ? { n: 0, d: 1 } : pickupLength(line, system.meter);
    return { slots: line?.pickup ?? [], from: minus(bar.at, length), length };
  }
  const length = barLength(system.meter);
  let slots = line?.bars[bar.index - system.firstBar]?.slots ?? [];
  for (let s = system.index, i = bar.index - 1; isSameBar(slots) && i >= 0; i--) {
    while (s > 0 && i < (systems[s] as System).firstBar) s--;
    const there = systems[s] as System;
    const before = rowIn(there, row)?.line.bars[i - there.firstBar]?.slots;
    if (before !== undefined) slots = before;
  }
  return { slots: isSameBar(slots) ? [] : slots, from: bar.at, length };
}

const isSameBar = ([only, second]: readonly Slot[]): boolean =>
  second === undefined && only?.kind === "leaf" && only.content.kind === "sameBar";

/** The chord that sounds at a moment of a bar; `undefined` in a rest, and where it can't be read. */
function soundingAt(
  placed: PlacedSection,
  bar: number,
  pickup: boolean,
  at: Fraction,
): ChordEvent | undefined {
  const lasts = (it: ChordEvent): boolean =>
    compare(it.at, at) <= 0 && compare(plus(it.at, it.length), at) > 0;
  if (pickup) {
    const goesOn =
      startsWithHold(placed, bar) && !chordsIn(placed, bar, true).some((it) => compare(it.at, at) <= 0);
    return chordsIn(placed, bar, true).findLast(lasts) ?? (goesOn ? chordBefore(placed, bar, at) : undefined);
  }
  const own = chordsIn(placed, bar, false).some((it) => compare(it.at, at) <= 0);
  const carried = own ? undefined : chordsIn(placed, bar, true).findLast(lasts);
  if (carried !== undefined) return carried;
  if (isSilenced(placed, bar, at)) return undefined;
  const found = chordAt(placed, barAt(placed, bar), at);
  return found?.sounds ? found.event : undefined;
}

/** Whether the row of chords falls silent before a moment of a bar: one that lasts into two endings may end in the first. */
function isSilenced(placed: PlacedSection, bar: number, at: Fraction): boolean {
  for (let i = bar; i >= 0; i--) {
    const system = placed.section.systems[barAt(placed, i).system] as System;
    const { slots, from, length } = chordSlots(placed, system, i, false);
    const last = (leavesOf(slots, length) ?? []).findLast(
      (leaf) => leaf.content.kind !== "hold" && compare(plus(from, leaf.at), at) <= 0,
    );
    if (last !== undefined) return last.content.kind === "rest" || last.content.kind === "noChord";
    if (barAt(placed, i).repeat.ending !== undefined) return false;
  }
  return false;
}

/** Whether the pickup of the chords into a bar goes on with the chord before it. */
function startsWithHold({ section }: PlacedSection, bar: number): boolean {
  const system = section.systems[(section.bars[bar] as Bar).system] as System;
  let [first] = rowIn(system, "chords")?.line.pickup ?? [];
  while (first?.kind === "group") first = first.slots[0];
  return first?.content.kind === "hold";
}

/** What sounds just before a pickup that goes on with it, in the bar that it covers; none where it covers it whole. */
function chordBefore(placed: PlacedSection, bar: number, at: Fraction): ChordEvent | undefined {
  const last = chordsIn(placed, bar - 1, false).findLast((it) => compare(it.at, at) < 0);
  return last !== undefined && compare(plus(last.at, last.length), at) >= 0 ? last : undefined;
}

const isStruckAt = (placed: PlacedSection, bar: number, pickup: boolean, at: Fraction): boolean =>
  chordsIn(placed, bar, pickup).some((it) => isEqual(it.at, at));

const isSung = ({ kind, struck }: SlotEvent): boolean => kind === "stack" && struck.length > 0;

const isSungAt = ({ placed, bar, pickup }: Place, at: Fraction): boolean =>
  slotsIn(placed, "lead", bar, pickup).some((slot) => isSung(slot) && isEqual(slot.at, at));

/** Whether a repeat comes back to a bar, or a second ending comes to it from elsewhere. */
function isComeBackTo({ section }: PlacedSection, bar: number): boolean {
  const { repeat } = barAt({ section } as PlacedSection, bar);
  const before = section.bars[bar - 1]?.repeat;
  return bar === 0 || repeat.start || repeat.ending !== undefined || before?.end === true;
}

/** The highest note of the lead at a moment; `undefined` where it rests or there is none. */
export function melodyAt(
  placed: PlacedSection,
  bar: number,
  pickup: boolean,
  at: Fraction,
): Pitch | undefined {
  const slot = slotsIn(placed, "lead", bar, pickup).findLast((it) => compare(it.at, at) <= 0);
  if (slot === undefined || compare(plus(slot.at, slot.length), at) <= 0) return undefined;
  return handGrip(slot).notes.at(-1)?.pitch;
}
