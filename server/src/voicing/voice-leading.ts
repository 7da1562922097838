/**
 * How far voices move in all, in half steps, from some keys to others (ascending MIDI numbers), at the least: every
 * voice goes to one, and every one is come from. As many voices on both sides keep their order; else some part or meet
 * (D. Tymoczko, The Geometry of Musical Chords, Science 313, 2006: the dynamic programming of its supplement, on keys
 * instead of tones in the octave). 0 where either side is empty.
 */
export function voiceLeading(from: readonly number[], to: readonly number[]): number {
  if (from.length === 0 || to.length === 0) return 0;
  return from.length === to.length ? inOrder(from, to) : partingOrMeeting(from, to);
}

/** What it can't be less than, at a glance: the lowest voice goes to the lowest, and the highest to the highest. */
export function leastVoiceLeading(from: readonly number[], to: readonly number[]): number {
  if (from.length < 2 || to.length < 2) return 0;
  const low = Math.abs((from[0] as number) - (to[0] as number));
  return low + Math.abs((from[from.length - 1] as number) - (to[to.length - 1] as number));
}

/** On one line no other way to pair them is shorter. */
function inOrder(from: readonly number[], to: readonly number[]): number {
  let sum = 0;
  for (let i = 0; i < from.length; i++) sum += Math.abs((from[i] as number) - (to[i] as number));
  return sum;
}

/** One row of the table, made once: this is asked for many thousand times in a passage. */
const row: number[] = [];

/** The least sum over all ways through the table of distances that step right, down or both. */
function partingOrMeeting(from: readonly number[], to: readonly number[]): number {
  for (let i = 0; i < from.length; i++) {
    const key = from[i] as number;
    /** What stands above the last place, and left of this one. */
    let [corner, left] = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
    for (let j = 0; j < to.length; j++) {
      const above = i === 0 ? Number.POSITIVE_INFINITY : (row[j] as number);
      const before = i === 0 && j === 0 ? 0 : Math.min(above, left, corner);
      corner = above;
      left = before + Math.abs(key - (to[j] as number));
      row[j] = left;
    }
  }
  return row[to.length - 1] as number;
}
