import { fingerSpan, widestSpan } from "./finger-spans.js";
import { grip } from "./grip.js";
import type { Hand } from "./hand.js";
import { placeOf, whiteKeyWidth } from "./key-place.js";

const lowestOf = (keys: readonly number[]): number => placeOf(keys[0] as number);
const highestOf = (keys: readonly number[]): number => placeOf(keys[keys.length - 1] as number);

/**
 * How far a hand travels from one grip to another (ascending MIDI numbers, at least one each), in micrometres, beyond
 * what it covers already: 0 where both lie under one relaxed hand or one lies inside the other. What stays down
 * belongs to both.
 */
export function travel(from: readonly number[], to: readonly number[], reach: number): number {
  const relaxed = fingerSpan(1, 5, reach).relaxedMost;
  return Math.max(0, extentOf(from, to) - Math.max(relaxed, widthOf(from), widthOf(to)));
}

const widthOf = (keys: readonly number[]): number => highestOf(keys) - lowestOf(keys);

/** From the lowest key of two grips to their highest. */
const extentOf = (one: readonly number[], other: readonly number[]): number =>
  Math.max(highestOf(one), highestOf(other)) - Math.min(lowestOf(one), lowestOf(other));

/**
 * How far a hand must travel from one grip to another: as `travel` says, and 0 where the hand holds both at once. It
 * lies over all their keys then and rocks from one to the other, as in a tremolo.
 */
export function handTravel(
  from: readonly number[],
  to: readonly number[],
  hand: Hand,
  reach: number,
): number {
  const distance = travel(from, to, reach);
  if (distance === 0 || extentOf(from, to) > widestSpan(reach)) return distance;
  const both = [...new Set([...from, ...to])].sort((a, b) => a - b);
  return grip(both, hand, reach).holds ? 0 : distance;
}

/**
 * The least time that a hand takes to travel so far (micrometres), in milliseconds, from the start of one grip to the
 * start of the next: 0 for no way at all. P. M. Fitts (1954), reciprocal tapping, in the form log2(A / W + 1) with a
 * white key as the target's width, 27.7 + 111.5 ID ms; six tenths of it, as trained hands play printed music (piano
 * rags and waltzes with tempo; chosen here).
 */
export const travelTime = (distance: number): number =>
  distance <= 0 ? 0 : 17 + 67 * Math.log2(1 + distance / whiteKeyWidth);

/** Half steps that lie under any relaxed hand, so that it has no way to go. */
export const alwaysCovered = 8;
