import { type Quality, qualityOf } from "./quality.js";
import { readNumber, type ToneNumber } from "./tone-number.js";

/**
 * The kinds of W3C MusicXML 4.0 (`kind-value`) that have tones of their own. The four augmented and Neapolitan
 * sixths and `pedal` name a function, whose tones the key decides; `other` is spelled out by its degrees, and
 * `none` is no harmony: those seven have no entry.
 */
const kinds: ReadonlyMap<string, string> = new Map([
  ["major", "1 3 5"],
  ["minor", "1 b3 5"],
  ["augmented", "1 3 #5"],
  ["diminished", "1 b3 b5"],
  ["dominant", "1 3 5 b7"],
  ["major-seventh", "1 3 5 7"],
  ["minor-seventh", "1 b3 5 b7"],
  ["diminished-seventh", "1 b3 b5 bb7"],
  ["augmented-seventh", "1 3 #5 b7"],
  ["half-diminished", "1 b3 b5 b7"],
  ["major-minor", "1 b3 5 7"],
  ["major-sixth", "1 3 5 6"],
  ["minor-sixth", "1 b3 5 6"],
  ["dominant-ninth", "1 3 5 b7 9"],
  ["major-ninth", "1 3 5 7 9"],
  ["minor-ninth", "1 b3 5 b7 9"],
  ["dominant-11th", "1 3 5 b7 9 11"],
  ["major-11th", "1 3 5 7 9 11"],
  ["minor-11th", "1 b3 5 b7 9 11"],
  ["dominant-13th", "1 3 5 b7 9 11 13"],
  ["major-13th", "1 3 5 7 9 11 13"],
  ["minor-13th", "1 b3 5 b7 9 11 13"],
  ["suspended-second", "1 2 5"],
  ["suspended-fourth", "1 4 5"],
  ["power", "1 5"],
  ["Tristan", "1 #4 #6 #9"],
]);

/** Their names, in the order of the standard. */
export const kindsWithTones: readonly string[] = [...kinds.keys()];

/** The kinds that name a function or nothing, and so have no tones of their own. */
export const kindsWithoutTones: readonly string[] = [
  "Neapolitan",
  "Italian",
  "French",
  "German",
  "pedal",
  "other",
  "none",
];

/** The tone numbers of a list such as `"1 b3 5"`; what is no number is left out. */
export const numbersOf = (text: string): ToneNumber[] =>
  text
    .split(" ")
    .map(readNumber)
    .filter((n) => n !== undefined);

/** The chord of a MusicXML kind; `undefined` for a kind without tones of its own and for any other word. */
export function chordOfKind(kind: string): Quality | undefined {
  const tones = kinds.get(kind);
  return tones === undefined ? undefined : qualityOf(numbersOf(tones));
}
