import type { HandGrip } from "./hand-grips.js";

/**
 * The sets of keys (ascending MIDI numbers) that a hand must hold down at once to play a grip: one, all its keys. Of a
 * roll, one for each key that is struck: with it the hand holds what was down before and what must stay down of the
 * keys below.
 */
export function heldAtOnce({ slot, keys, tied }: HandGrip): readonly (readonly number[])[] {
  if (!slot.rolled) return [keys];
  const before = new Set(slot.held.map(({ pitch }) => pitch.midi));
  const isHeld = (key: number, struck: number): boolean =>
    key === struck || before.has(key) || (key < struck && tied.includes(key));
  return keys.flatMap((struck) => (before.has(struck) ? [] : [keys.filter((key) => isHeld(key, struck))]));
}
