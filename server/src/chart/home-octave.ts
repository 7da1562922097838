import type { Hand } from "../keyboard/hand.js";
import type { PitchedRow } from "../syntax/tree.js";
import type { Key } from "../theory/key.js";
import { pitchClass } from "../theory/note-name.js";
import type { HomeKey, SystemRow } from "./model.js";

/** The lowest place of the 1 from which all home octaves are measured (Bb3), by the language. */
const lowestOne = 58;
/** No later key's 1 lies farther than this from the chart's first 1, in half steps. */
const farthestOne = 9;

/** The 1 of a tonic between Bb3 (58) and A4 (69), as a MIDI number. */
export const homeOne = (tonic: number): number =>
  lowestOne + ((((pitchClass(tonic) - lowestOne) % 12) + 12) % 12);

/** The shorter way from one tonic to another in half steps, -6 to 5: the tritone goes down. */
export const shorterWay = (from: number, to: number): number =>
  ((pitchClass(to) - pitchClass(from) + 18) % 12) - 6;

/** The key that a later `key` line sets: its 1 lies the shorter way from the one before, unless that climbs away. */
export function nextHome(before: HomeKey, key: Key, firstOne: number): HomeKey {
  const one = before.one + shorterWay(before.key.tonic, key.tonic);
  if (one - firstOne > farthestOne) return { key, one: one - 12 };
  if (firstOne - one > farthestOne) return { key, one: one + 12 };
  return { key, one };
}

/** How far below the 1 the home octave of each row starts, in half steps, by the language. */
const below: Readonly<Record<PitchedRow, number>> = { lead: 0, right: 9, left: 24, bass: 29 };

/** The lowest key of a row's home octave, as a MIDI number: in C major lead 60, right 51, left 36, bass 31. */
export const homeOctave = (row: PitchedRow, one: number): number => one - below[row];

/** Whose hand plays a row, given the rows that stand in its system. */
export function handOf(row: PitchedRow, rows: readonly SystemRow[]): Hand | undefined {
  if (row === "right" || row === "left") return row;
  const stands = (name: PitchedRow): boolean => rows.some((it) => it.row === name);
  if (row === "lead") return stands("right") ? undefined : "right";
  return stands("left") ? undefined : "left";
}
