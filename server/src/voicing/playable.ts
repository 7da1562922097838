import type { Hand } from "../keyboard/hand.js";
import { highestKey, lowestKey } from "../keyboard/keyboard-range.js";
import { keysHolding } from "../keyboard/twelve-keys.js";
import { lowestClear } from "../theory/low-intervals.js";

/** The half steps by which a chart is moved as one block to its twelve keys: the tritone goes down. */
export const twelveMoves: readonly number[] = Array.from({ length: 12 }, (_, i) => i - 6);

/** The keys in which a voicing has to be playable, all at once. */
export interface Keys {
  /** Half steps from where it stands. */
  readonly moves: readonly number[];
  /** A bit for each move within the octave. */
  readonly bits: number;
  readonly lowest: number;
  readonly highest: number;
}

export function keysOf(moves: readonly number[], everyKey: boolean): Keys {
  const all = [...new Set(everyKey ? [...moves, ...twelveMoves] : [0, ...moves])];
  return {
    moves: all,
    bits: all.reduce((bits, by) => bits | (1 << (((by % 12) + 12) % 12)), 0),
    lowest: Math.min(...all),
    highest: Math.max(...all),
  };
}

/** Whether a hand holds keys (ascending MIDI numbers) in each of the keys asked for, and the piano has them. */
export function isHeld(keys: readonly number[], hand: Hand, reach: number, asked: Keys): boolean {
  const [low, high] = [keys[0], keys[keys.length - 1]];
  if (low === undefined || high === undefined) return true;
  if (low + asked.lowest < lowestKey || high + asked.highest > highestKey) return false;
  return (keysHolding(keys, hand, reach) & asked.bits) === asked.bits;
}

/** Whether two neighbours, MIDI numbers, are heard apart in each of the keys asked for. */
export const isClear = (lower: number, upper: number, asked: Keys): boolean =>
  lower + asked.lowest >= (lowestClear(upper - lower) ?? 0);
