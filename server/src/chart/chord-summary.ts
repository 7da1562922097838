import { degreeText, prettyChord, prettyQuality } from "../theory/chord.js";
import type { HarmonicFunction } from "../theory/harmonic-function.js";
import { printNumber } from "../theory/tone-number.js";
import type { ChordEvent } from "./model.js";

/** `G7/B (1:7/3), dominant of the 4, and goes there` */
export function chordSummary(
  event: Pick<ChordEvent, "chord" | "key" | "text">,
  role: HarmonicFunction,
): string {
  const number = chordInNumbers(event);
  const shown = number === printNumber(role.degree) ? "" : ` (${prettyQuality(number)})`;
  return `${prettyChord(event.chord)}${shown}, ${role.text}`;
}

/** A chord as it is written in numbers, in ASCII: as the chart has it where it has numbers. */
export const chordInNumbers = ({ chord, key, text }: Pick<ChordEvent, "chord" | "key" | "text">): string =>
  /^[b♭#♯]*[1-7]/.test(text) ? text : degreeText(chord, key);
