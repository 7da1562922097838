import type { SlotEvent } from "./model.js";

/** Whether a slot strikes a key: it is a stack, and not all of it is held from before. */
export function strikes(slot: SlotEvent): boolean {
  const { placed, held } = slot;
  if (placed === undefined) return false;
  // Asked without its notes, which are made for whom they concern.
  return held.length === 0 ? placed.tones.length > 0 : slot.struck.length > 0;
}
