import { compare, minus, plus } from "../theory/fraction.js";
import type { PedalStroke, PlayedChord } from "./performance.js";

/** The pedal down with each chord, and up where the next one is struck or the chord ends. */
export const pedalled = (chords: readonly PlayedChord[]): readonly PedalStroke[] =>
  chords.map(({ at, length }, i) => {
    const next = chords[i + 1]?.at;
    const end = plus(at, length);
    return { at, length: minus(next !== undefined && compare(next, end) < 0 ? next : end, at) };
  });
