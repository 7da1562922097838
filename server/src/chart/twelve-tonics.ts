import type { Key } from "../theory/key.js";
import { moveFurther } from "./moves.js";

/** A key that something may be moved to, and how many half steps up it lies, 0 to 11. */
export interface MovedTonic {
  readonly by: number;
  /** On the line of fifths. */
  readonly tonic: number;
}

/** The twelve practical keys that something in `key` may be moved to, in order from C. */
export function twelveTonics(key: Key): readonly MovedTonic[] {
  const place = inOctave(7 * key.tonic);
  return Array.from({ length: 12 }, (_, above) => {
    const by = inOctave(above - place);
    return { by, tonic: moveFurther({ key, halfSteps: 0 }, by).key.tonic };
  });
}

const inOctave = (halfSteps: number): number => ((halfSteps % 12) + 12) % 12;
