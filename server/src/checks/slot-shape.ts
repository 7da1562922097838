import type { SlotEvent } from "../chart/model.js";
import { widestShape } from "../keyboard/grip-shape.js";

/** The lowest key that sounds in a slot, a MIDI number; infinite where none does. */
export function lowestIn({ struck, held }: SlotEvent): number {
  let lowest = Number.POSITIVE_INFINITY;
  for (const { pitch, grace } of struck) if (!grace && pitch.midi < lowest) lowest = pitch.midi;
  for (const { pitch } of held) if (pitch.midi < lowest) lowest = pitch.midi;
  return lowest;
}

/** The shape of all that sounds in a slot, as if none of it were rolled; `undefined` where it is wider than any hand. */
export function shapeIn(slot: SlotEvent, lowest: number): number | undefined {
  let shape = 0;
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
