import type { SlotEvent } from "./model.js";

/** Whether a slot strikes a key: it is a stack, and not all of it is held from before. */
export const strikes = ({ placed, held }: SlotEvent): boolean =>
  placed !== undefined && placed.tones.length > held.length;
