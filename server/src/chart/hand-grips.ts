import type { Hand } from "../keyboard/hand.js";
import { compare } from "../theory/fraction.js";
import type { Note, Section, SlotEvent } from "./model.js";

/** What a hand holds in one slot. */
export interface HandGrip {
  readonly slot: SlotEvent;
  /** All that sounds in it, struck or held, from the lowest key up; of two tones on one key the one held. Grace notes are left out. */
  readonly notes: readonly Note[];
  /** Their keys, ascending MIDI numbers. */
  readonly keys: readonly number[];
  /** Of a roll, the keys that must stay down: held from before, or by a later `_`. All keys of any other slot. */
  readonly tied: readonly number[];
}

const hands: Readonly<Record<Hand, "right" | "left">> = { left: "left", right: "right" };
const melodies: Readonly<Record<Hand, "lead" | "bass">> = { left: "bass", right: "lead" };

const known = new WeakMap<Section, Partial<Record<Hand, readonly HandGrip[]>>>();

/**
 * What a hand holds through a section, in written order, a grip for each slot in which it strikes a key; where it has
 * no row of its own it plays the `lead`, or the `bass`.
 */
export function handGrips(section: Section, hand: Hand): readonly HandGrip[] {
  const grips = known.get(section) ?? {};
  known.set(section, grips);
  grips[hand] ??= gripsOf(section, hand);
  return grips[hand];
}

function gripsOf({ rows }: Section, hand: Hand): readonly HandGrip[] {
  const own = strikingSlots(rows[hands[hand]].slots, hand);
  const melody = strikingSlots(rows[melodies[hand]].slots, hand);
  if (melody.length === 0) return own.map(handGrip);
  if (own.length === 0) return melody.map(handGrip);
  // A system has the one or the other.
  return [...own, ...melody]
    .sort((a, b) => a.system - b.system || a.bar - b.bar || compare(a.at, b.at))
    .map(handGrip);
}

const strikingSlots = (slots: readonly SlotEvent[], hand: Hand): readonly SlotEvent[] =>
  slots.filter(
    (slot) => slot.kind === "stack" && slot.hand === hand && slot.struck.some(({ grace }) => !grace),
  );

/** What its hand holds in a slot that strikes. */
export function handGrip(slot: SlotEvent): HandGrip {
  const notes: Note[] = [];
  for (const note of [...slot.held, ...slot.struck]) {
    const { midi } = note.pitch;
    if (!note.grace && !notes.some(({ pitch }) => pitch.midi === midi)) notes.push(note);
  }
  notes.sort((a, b) => a.pitch.midi - b.pitch.midi);
  const keys = notes.map(({ pitch }) => pitch.midi);
  const tied = slot.rolled ? notes.filter((note) => isTied(note, slot)).map(({ pitch }) => pitch.midi) : keys;
  return { slot, notes, keys, tied };
}

const isTied = (note: Note, { held }: SlotEvent): boolean =>
  held.includes(note) || note.heldBy.some(({ text }) => text !== "-");
