import { beatLength } from "../chart/bar-time.js";
import { handGrip } from "../chart/hand-grips.js";
import { type HandMove, lasting } from "../chart/hand-path.js";
import type { Bar, Section, SlotEvent } from "../chart/model.js";
import type { Hand } from "../keyboard/hand.js";
import { handTravel, travel, travelTime } from "../keyboard/leap.js";
import { rollTimes } from "../keyboard/roll.js";
import { compare, type Fraction, over } from "../theory/fraction.js";

/** Times in milliseconds: what there is and what it takes. */
export interface Haste {
  readonly has: number;
  readonly needs: number;
}

/** A move between two grips that leaves the hand too little time. The way is in micrometres. */
export interface QuickLeap extends Haste {
  readonly distance: number;
}

/**
 * Whether a move, each grip so many half steps from where it is printed, leaves the hand too little time; `undefined`
 * where it has enough. A hand leaves a roll by its last tone and comes into one by its lowest; what stays down stays
 * under it.
 */
export function tooQuick(
  { from, to, milliseconds }: HandMove,
  hand: Hand,
  reach: number,
  fromBy: number,
  toBy: number,
): QuickLeap | undefined {
  const [before, after] = [handGrip(from), handGrip(to)];
  const left = from.rolled ? [...before.tied, ...struckKeys(from).slice(-1)] : before.keys;
  const reached = to.rolled ? [...heldKeys(to), ...struckKeys(to).slice(0, 1)] : after.keys;
  const rolling = from.rolled ? rollLength(from, reach, fromBy) : 0;
  const has = milliseconds - rolling;
  if (has >= travelTime(travel(ends(left, fromBy), ends(reached, toBy), reach))) return undefined;
  const distance = handTravel(moved(left, fromBy), moved(reached, toBy), hand, reach);
  const needs = travelTime(distance);
  return has < needs ? { has, needs, distance } : undefined;
}

/** Whether a roll, so many half steps from where it is printed, has too little time; `undefined` where it has enough. */
export function hastyRoll(slot: SlotEvent, section: Section, reach: number, by: number): Haste | undefined {
  const bar = section.bars[slot.bar];
  const has = bar && timeToRoll(slot, section, bar);
  if (has === undefined) return undefined;
  const needs = rollLength(slot, reach, by);
  return has < needs ? { has, needs } : undefined;
}

/** Half as long as its tones last, and at most half a beat. */
function timeToRoll({ struck }: SlotEvent, section: Section, bar: Bar): number | undefined {
  let shortest: Fraction = beatLength(bar.meter);
  for (const { grace, length } of struck) if (!grace && compare(length, shortest) < 0) shortest = length;
  return lasting(over(shortest, 2), section, bar);
}

const rollLength = (slot: SlotEvent, reach: number, by: number): number =>
  rollTimes(
    struckKeys(slot).map((key) => key + by),
    reach,
  ).at(-1) ?? 0;

/** The keys that are struck in a slot, ascending MIDI numbers. */
const struckKeys = ({ struck }: SlotEvent): readonly number[] =>
  struck.flatMap(({ grace, pitch }) => (grace ? [] : [pitch.midi])).sort((a, b) => a - b);

const heldKeys = ({ held }: SlotEvent): readonly number[] => held.map(({ pitch }) => pitch.midi);

const moved = (keys: readonly number[], by: number): readonly number[] =>
  keys.map((key) => key + by).sort((a, b) => a - b);

const ends = (keys: readonly number[], by: number): readonly number[] => [
  Math.min(...keys) + by,
  Math.max(...keys) + by,
];
