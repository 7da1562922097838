import { type Chord, chordNumber } from "../theory/chord.js";
import { isSameNumber, type ToneNumber, upper } from "../theory/tone-number.js";
import type { Note } from "./model.js";

/** A note's number in a chord, 1 to 7; 9, 11 or 13 where the symbol or the note's own text says so. */
export function numberInChord(chord: Chord, { pitch, tone, grace }: Note): ToneNumber {
  const number = chordNumber(chord, pitch.fifths);
  const name = grace ? tone.grace : tone.name;
  const high = upper(number);
  return name?.kind === "number" && isSameNumber(name, high) ? high : number;
}
