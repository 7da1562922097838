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

/** The least sum over all ways through the table of distances that step right, down or both. */
function partingOrMeeting(from: readonly number[], to: readonly number[]): number {
  let above: number[] = [];
  for (const key of from) {
    const row: number[] = [];
    for (let j = 0; j < to.length; j++) {
      const before = Math.min(
        above[j] ?? Number.POSITIVE_INFINITY,
        row[j - 1] ?? Number.POSITIVE_INFINITY,
        above[j - 1] ?? Number.POSITIVE_INFINITY,
      );
      row.push(Math.abs(key - (to[j] as number)) + (before === Number.POSITIVE_INFINITY ? 0 : before));
    }
    above = row;
  }
  return above[above.length - 1] ?? 0;
}
