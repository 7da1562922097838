import { travel, travelTime } from "./leap.js";

/** The least time between two tones of a roll, in milliseconds (common practice, no source). */
export const leastRollStep = 40;

/**
 * When each key of a roll (ascending MIDI numbers) is struck, in milliseconds after the first: as far apart as the
 * hand needs to get from one to the next.
 */
export function rollTimes(keys: readonly number[], reach: number): readonly number[] {
  const times: number[] = [];
  let at = 0;
  keys.forEach((key, i) => {
    if (i > 0) at += Math.max(leastRollStep, travelTime(travel([keys[i - 1] as number], [key], reach)));
    times.push(at);
  });
  return times;
}
