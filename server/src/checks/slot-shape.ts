import type { SlotEvent } from "../chart/model.js";
import { widestShape } from "../keyboard/grip-shape.js";

/** The lowest key that sounds in a slot, a MIDI number; infinite where none does. */
export function lowestIn(slot: SlotEvent): number {
  const { placed, held } = slot;
  if (held.length === 0) return placed?.lowest?.midi ?? Number.POSITIVE_INFINITY;
  let lowest = Number.POSITIVE_INFINITY;
  for (const { pitch, grace } of slot.struck) if (!grace && pitch.midi < lowest) lowest = pitch.midi;
  for (const { pitch } of held) if (pitch.midi < lowest) lowest = pitch.midi;
  return lowest;
}

/** The shape of all that sounds in a slot, as if none of it were rolled; `undefined` where it is wider than any hand. */
export function shapeIn(slot: SlotEvent, lowest: number): number | undefined {
  let shape = 0;
  if (slot.placed !== undefined && slot.held.length === 0) {
    for (const { pitch } of slot.placed.tones) {
      const above = pitch.midi - lowest;
      if (above === 0) continue;
      if (above > widestShape) return undefined;
      shape |= 1 << above;
    }
    return shape;
  }
  for (const notes of [slot.struck, slot.held]) {
    for (const { pitch, grace } of notes) {
      const above = pitch.midi - lowest;
      if (grace || above === 0) continue;
      if (above > widestShape) return undefined;
      shape |= 1 << above;
    }
  }
  return shape;
}
