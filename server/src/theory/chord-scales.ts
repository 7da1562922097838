import type { Chord } from "./chord.js";
import type { HarmonicFunction } from "./harmonic-function.js";
import { type Key, scaleOf } from "./key.js";
import { nameOf, pitchClass } from "./note-name.js";
import type { Quality } from "./quality.js";
import { fifthsAbove, keyAbove, readNumber, type ToneNumber } from "./tone-number.js";

/** A scale on a chord's root. `name` has the root in ASCII: `"D dorian"`. */
export interface ChordScale {
  readonly name: string;
  /** From the root up, on the line of fifths. */
  readonly tones: readonly number[];
}

/**
 * Scales in use over chords, the plainer before the rarer: the modes of major, of melodic and of harmonic minor,
 * and the symmetric ones (names and contents as in the usual scale dictionaries).
 */
const scales: readonly (readonly [name: string, tones: readonly ToneNumber[]])[] = (
  [
    ["major", "1 2 3 4 5 6 7"],
    ["dorian", "1 2 b3 4 5 6 b7"],
    ["mixolydian", "1 2 3 4 5 6 b7"],
    ["minor", "1 2 b3 4 5 b6 b7"],
    ["lydian", "1 2 3 #4 5 6 7"],
    ["phrygian", "1 b2 b3 4 5 b6 b7"],
    ["locrian", "1 b2 b3 4 b5 b6 b7"],
    ["lydian dominant", "1 2 3 #4 5 6 b7"],
    ["altered", "1 b2 #2 3 b5 b6 b7"],
    ["mixolydian b6", "1 2 3 4 5 b6 b7"],
    ["melodic minor", "1 2 b3 4 5 6 7"],
    ["dorian b2", "1 b2 b3 4 5 6 b7"],
    ["locrian #2", "1 2 b3 4 b5 b6 b7"],
    ["lydian augmented", "1 2 3 #4 #5 6 7"],
    ["phrygian dominant", "1 b2 3 4 5 b6 b7"],
    ["harmonic minor", "1 2 b3 4 5 b6 7"],
    ["whole-half diminished", "1 2 b3 4 b5 b6 bb7 7"],
    ["half-whole diminished", "1 b2 #2 3 #4 5 6 b7"],
    ["whole tone", "1 2 3 #4 #5 b7"],
  ] as const
).map(([name, tones]) => [name, tones.split(" ").map((text) => readNumber(text) as ToneNumber)]);

/** The names of all scales with their tones, for reference pages. */
export const scaleTable = scales;

const isDiminishedSeventh = (quality: Quality): boolean =>
  quality.tones.some((n) => n.number === 7 && n.alter === -2);

/**
 * The scales that hold every tone of the chord, best first: those that leave the key least, and of a chord in
 * its own key the key's own scale. A tritone substitute asks for its lydian dominant, a diminished seventh for
 * whole and half steps in turn (common practice). Empty where no scale in use holds the chord.
 */
export function scalesFor(chord: Chord, key: Key, fn: HarmonicFunction): readonly ChordScale[] {
  const inKey = new Set(scaleOf(key).map(pitchClass));
  const wanted = chord.quality.tones.map(keyAbove);
  const preferred =
    fn.kind === "tritone-substitute"
      ? "lydian dominant"
      : isDiminishedSeventh(chord.quality)
        ? "whole-half diminished"
        : undefined;
  const found: { readonly scale: ChordScale; readonly strange: number }[] = [];
  for (const [name, numbers] of scales) {
    const keys = new Set(numbers.map(keyAbove));
    if (!wanted.every((tone) => keys.has(tone))) continue;
    const tones = numbers.map((n) => chord.root + fifthsAbove(n));
    const outside = tones.filter((fifths) => !inKey.has(pitchClass(fifths))).length;
    found.push({
      scale: { name: `${nameOf(chord.root)} ${name}`, tones },
      strange: name === preferred ? -1 : outside,
    });
  }
  return found.sort((a, b) => a.strange - b.strange).map(({ scale }) => scale);
}

const candidates: readonly ToneNumber[] = ["b9", "9", "#9", "11", "#11", "b13", "13", "7"].map(
  (text) => readNumber(text) as ToneNumber,
);

/**
 * The tensions that players add to a chord: tones a whole step above a chord tone (B. Nettles, Harmony 3, Berklee),
 * and over a dominant seventh with a plain fifth also b9, #9 and b13, its customary exceptions. The major 7th counts
 * as a tension of sixth and diminished chords. Over a minor seventh the 13 is left out: it belongs to Dorian alone.
 */
export function tensionsOf(quality: Quality): ToneNumber[] {
  const keys = quality.tones.map(keyAbove);
  const seventh = quality.tones.find((n) => n.number === 7);
  const third = quality.tones.find((n) => n.number === 3);
  const isDominant = third?.alter === 0 && seventh?.alter === -1;
  const takesExceptions = isDominant && keys.includes(7);
  return candidates.filter((n) => {
    const key = keyAbove(n);
    if (keys.includes(key)) return false;
    const isAltered = key === 1 || key === 3 || key === 8;
    if (isDominant && isAltered) return takesExceptions;
    if (n.number === 7) return keys.includes(9) && seventh?.alter !== -1;
    if (n.number === 13 && n.alter === 0 && third?.alter === -1 && seventh?.alter === -1) return false;
    if (n.number === 9 && n.alter !== 0) return false;
    if (n.number === 11 && n.alter === 1 && third === undefined) return false;
    return keys.includes((key + 10) % 12);
  });
}

/**
 * The scale tones that clash with a chord when held: a half step above one of its tones, and no chord tone
 * themselves. A dominant's b9 and b13 are exempt.
 */
export function avoidNotes(chord: Chord, scale: ChordScale): number[] {
  const keys = new Set(chord.quality.tones.map(keyAbove));
  const tensions = new Set(tensionsOf(chord.quality).map(keyAbove));
  return scale.tones.filter((fifths) => {
    const key = pitchClass(fifths - chord.root);
    return !keys.has(key) && !tensions.has(key) && keys.has((key + 11) % 12);
  });
}
