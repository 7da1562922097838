import type { SlotEvent } from "./model.js";

/** Whether a slot strikes a key: it is a stack, and not all of it is held from before. */
export function strikes(slot: SlotEvent): boolean {
  const { placed } = slot;
  if (placed === undefined) return false;
  return placed.tones.length > (placed.holds ? slot.held.length : 0);
}
