import type { Note, Section, SlotEvent } from "../chart/model.js";
import type { PlacedStack } from "../chart/stack.js";
import { strikes } from "../chart/strikes.js";
import type { Related } from "../problems/problem.js";
import type { PitchedRow } from "../syntax/tree.js";
import type { Span } from "../text/span.js";

/** The notes that sound in a slot, held or struck, from the lowest key up. */
export const soundingIn = ({ struck, held }: SlotEvent): readonly Note[] =>
  [...held, ...struck.filter(({ grace }) => !grace)].sort((a, b) => a.pitch.midi - b.pitch.midi);

/** A set of keys that a row strikes, where it stands first, and the later places that strike it again. */
export interface KeySet {
  readonly slot: SlotEvent;
  readonly notes: readonly Note[];
  readonly later: readonly SlotEvent[];
}

/**
 * Each set of keys that a row sounds through a section, once, of the stacks that are of concern. A place that `=` or
 * `%` repeats counts once.
 */
export function keySets(
  section: Section,
  row: PitchedRow,
  isOfConcern: (placed: PlacedStack) => boolean,
): readonly KeySet[] {
  const sets = new Map<string, { slot: SlotEvent; notes: readonly Note[]; later: SlotEvent[] }>();
  for (const slot of section.rows[row].slots) {
    if (slot.placed === undefined || !isOfConcern(slot.placed) || !strikes(slot)) continue;
    const notes = soundingIn(slot);
    const keys = notes.map(({ pitch }) => pitch.midi).join(" ");
    const known = sets.get(keys);
    if (known === undefined) sets.set(keys, { slot, notes, later: [] });
    else if (slot.repeatedBy === undefined && slot.span.start !== known.slot.span.start)
      known.later.push(slot);
  }
  return [...sets.values()];
}

/** The later places of a set of keys, as they are told beside the first. */
export const laterPlaces = ({ later }: KeySet): readonly Related[] =>
  later.map(({ span }) => ({ span, message: "Here again." }));

/** A note's place in the slot that sounds it: of a held one the tone that holds it, else the whole slot. */
export function placeIn(slot: SlotEvent, note: Note): Span {
  if (slot.struck.includes(note)) return note.span;
  const { at } = slot;
  return note.heldBy.find((it) => it.at.n === at.n && it.at.d === at.d)?.span ?? slot.span;
}
