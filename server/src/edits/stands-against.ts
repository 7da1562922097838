import { type Chord, chordNumber } from "../theory/chord.js";
import type { Pitch } from "../theory/pitch.js";
import { contradicts } from "../theory/quality.js";
import { upper } from "../theory/tone-number.js";

/** Whether a melody's tone says another thing than the chord under it, so that no hand should strike it as a chord tone. */
export function standsAgainst({ fifths }: Pitch, chord: Chord): boolean {
  const number = chordNumber(chord, fifths);
  return contradicts(chord.quality, number) || contradicts(chord.quality, upper(number));
}
