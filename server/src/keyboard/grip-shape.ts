/** The widest grip, in half steps, that has a shape; wider than any hand. */
export const widestShape = 30;

/**
 * The shape of a grip (ascending MIDI numbers, at least one), wherever it lies: a bit for each half step above the
 * lowest key. `undefined` where it is wider than any hand, and where keys don't ascend, so that no other grip is
 * remembered in its place.
 */
export function gripShape(keys: readonly number[]): number | undefined {
  const lowest = keys[0] as number;
  let shape = 0;
  let below = 0;
  for (let i = 1; i < keys.length; i++) {
    const above = (keys[i] as number) - lowest;
    if (above > widestShape || above <= below) return undefined;
    shape |= 1 << above;
    below = above;
  }
  return shape;
}

/** The place of a key in its octave: 0 is C. */
export const inOctave = (midi: number): number => ((midi % 12) + 12) % 12;
