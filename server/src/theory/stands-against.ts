import { type Chord, chordNumber } from "./chord.js";
import type { Pitch } from "./pitch.js";
import { contradicts } from "./quality.js";
import { upper } from "./tone-number.js";

/** Whether a melody's tone says another thing than the chord under it, so that no hand should strike it as a chord tone. */
export function standsAgainst({ fifths }: Pitch, chord: Chord): boolean {
  const number = chordNumber(chord, fifths);
  return contradicts(chord.quality, number) || contradicts(chord.quality, upper(number));
}
