import type { Chord } from "./chord.js";
import type { HarmonicFunction } from "./harmonic-function.js";
import { type Key, scaleDegree, scaleOf } from "./key.js";
import { nameOf, pitchClass } from "./note-name.js";
import type { Quality } from "./quality.js";
import { fifthsAbove, keyAbove, readNumber, type ToneNumber } from "./tone-number.js";

/** A scale on a chord's root. `name` has the root in ASCII: `"D dorian"`. */
export interface ChordScale {
  readonly name: string;
  /** From the root up, on the line of fifths. */
  readonly tones: readonly number[];
}

/** A scale by the numbers of its tones. */
export interface Scale {
  readonly name: string;
  /** 0 for the modes of major, 1 of melodic minor, 2 of harmonic minor, 3 for symmetric scales. */
  readonly rarity: number;
  readonly numbers: readonly ToneNumber[];
}

const numbersIn = (text: string): ToneNumber[] => text.split(" ").map((n) => readNumber(n) as ToneNumber);

/**
 * Scales in use over chords, the plainer before the rarer: the modes of major, of melodic and of harmonic minor,
 * and the symmetric ones (names and contents as in the usual scale dictionaries).
 */
export const scaleTable: readonly Scale[] = (
  [
    ["major", 0, "1 2 3 4 5 6 7"],
    ["dorian", 0, "1 2 b3 4 5 6 b7"],
    ["mixolydian", 0, "1 2 3 4 5 6 b7"],
    ["minor", 0, "1 2 b3 4 5 b6 b7"],
    ["lydian", 0, "1 2 3 #4 5 6 7"],
    ["phrygian", 0, "1 b2 b3 4 5 b6 b7"],
    ["locrian", 0, "1 b2 b3 4 b5 b6 b7"],
    ["lydian dominant", 1, "1 2 3 #4 5 6 b7"],
    ["altered", 1, "1 b2 #2 3 b5 b6 b7"],
    ["mixolydian b6", 1, "1 2 3 4 5 b6 b7"],
    ["melodic minor", 1, "1 2 b3 4 5 6 7"],
    ["dorian b2", 1, "1 b2 b3 4 5 6 b7"],
    ["locrian #2", 1, "1 2 b3 4 b5 b6 b7"],
    ["lydian augmented", 1, "1 2 3 #4 #5 6 7"],
    ["phrygian dominant", 2, "1 b2 3 4 5 b6 b7"],
    ["harmonic minor", 2, "1 2 b3 4 5 b6 7"],
    ["whole-half diminished", 3, "1 2 b3 4 b5 b6 bb7 7"],
    ["half-whole diminished", 3, "1 b2 #2 3 #4 5 6 b7"],
    ["whole tone", 3, "1 2 3 #4 #5 b7"],
  ] as const
).map(([name, rarity, tones]) => ({ name, rarity, numbers: numbersIn(tones) }));

const isDiminishedSeventh = (quality: Quality): boolean =>
  quality.tones.some((n) => n.number === 7 && n.alter === -2);

/**
 * What a chord and its scale must share: the key, since #11 and b5 or #5 and b13 are played alike, but a minor third
 * is no sharp ninth.
 */
const played = (n: ToneNumber): string => (keyAbove(n) === 3 && n.number % 7 === 2 ? "#9" : `${keyAbove(n)}`);

/**
 * The scales that suit the chord in its key, best first: those that leave the key least, each step of rarity
 * counting as half a strange tone; so a chord of the key gets the key's own scale. A tritone substitute asks for
 * lydian dominant, a diminished seventh for whole and half steps in turn (common practice). A scale holds every tone
 * of the chord; where none does, all but its natural fifth, which players leave out first (7#9b13). A chord of the key
 * is heard with the key's own third and seventh where it has none, so its scales have those too. Of the others only
 * those stay that are hardly worse than the best (see `isNear`). Empty where there is none.
 */
export function scalesFor(chord: Chord, key: Key, fn: HarmonicFunction): readonly ChordScale[] {
  const { tones } = chord.quality;
  const withoutFifth = tones.filter((n) => n.number !== 5 || n.alter !== 0);
  const fitting = [tones, withoutFifth]
    .map((wanted) => scalesWith(wanted, chord, key, fn))
    .find((found) => found.length > 0);
  if (fitting === undefined) return [];
  const heard = fn.kind === "diatonic" ? heardInKey(chord, key, fn) : [];
  const whole = fitting.filter(({ scale }) =>
    heard.every((tone) => scale.tones.some((it) => pitchClass(it) === tone)),
  );
  const ranked = (whole.length > 0 ? whole : fitting).sort((a, b) => a.cost - b.cost);
  const best = ranked[0] as Fitting;
  return ranked.filter((it) => it === best || isNear(it, best, chord)).map(({ scale }) => scale);
}

interface Fitting {
  readonly scale: ChordScale;
  readonly rarity: number;
  /** How many of its tones the key doesn't have. */
  readonly strange: number;
  /** -1 of the scale that such a chord asks for. */
  readonly cost: number;
}

/**
 * Whether a scale is worth naming beside the best: at most one more of its tones is strange to the key, and it brings
 * no tone to avoid that the best doesn't have (over the 4 major would bring the 11). A chord with a tritone takes
 * colours, so its scale may be a rarer one too (lydian dominant over 5:7, locrian #2 over 7m7b5); a symmetric one only
 * where the chord itself is altered (half-whole diminished over 5:7b9). Common practice, no source.
 */
function isNear({ scale, rarity, strange, cost }: Fitting, best: Fitting, chord: Chord): boolean {
  if (best.cost < 0 || (rarity > 2 && !isAltered(chord.quality))) return false;
  const avoided = avoidNotes(chord, best.scale);
  if (!avoidNotes(chord, scale).every((tone) => avoided.includes(tone))) return false;
  return strange <= best.strange + 1 && cost <= best.cost + (hasTritone(chord.quality) ? 2 : 1);
}

/** Whether its fifth or one of its colours is raised or lowered. */
const isAltered = ({ tones }: Quality): boolean =>
  tones.some((n) => n.alter !== 0 && n.number !== 3 && n.number !== 7);

function hasTritone({ tones }: Quality): boolean {
  const keys = tones.map(keyAbove);
  return keys.some((key) => keys.includes((key + 6) % 12));
}

const isMinorMode = ({ mode }: Key): boolean => mode === "minor" || mode === "aeolian";

/** The keys within the octave of the third and the seventh that the key gives a chord which says none. */
function heardInKey({ quality }: Chord, key: Key, { degree }: HarmonicFunction): readonly number[] {
  return [3, 7]
    .filter((number) => !quality.tones.some((n) => n.number === number))
    .map((number) => scaleDegree(key, ((degree.number + number - 2) % 7) + 1, 0))
    .filter((fifths) => !(isMinorMode(key) && fifths === key.tonic - 2)) // raised or not in minor
    .map(pitchClass);
}

function scalesWith(
  chordTones: readonly ToneNumber[],
  chord: Chord,
  key: Key,
  fn: HarmonicFunction,
): Fitting[] {
  const inKey = new Set(scaleOf(key).map(pitchClass));
  // The raised 7 is a minor key's own too.
  const isOwn = (fifths: number): boolean =>
    inKey.has(pitchClass(fifths)) || (isMinorMode(key) && fifths === key.tonic + 5);
  const wanted = chordTones.map(played);
  const preferred =
    fn.kind === "tritone-substitute"
      ? "lydian dominant"
      : isDiminishedSeventh(chord.quality)
        ? "whole-half diminished"
        : undefined;
  const found: Fitting[] = [];
  for (const { name, rarity, numbers } of scaleTable) {
    const has = new Set(numbers.map(played));
    if (!wanted.every((tone) => has.has(tone))) continue;
    const tones = numbers.map((n) => chord.root + fifthsAbove(n));
    const strange = tones.filter((fifths) => !isOwn(fifths)).length;
    const cost = name === preferred ? -1 : strange + rarity / 2;
    found.push({ scale: { name: `${nameOf(chord.root)} ${name}`, tones }, rarity, strange, cost });
  }
  return found;
}

const candidates: readonly ToneNumber[] = numbersIn("b9 9 #9 11 #11 b13 13 7");

/**
 * The tensions that players add to a chord: tones a whole step above a chord tone (B. Nettles, Harmony 3, Berklee),
 * and over a dominant seventh with a plain fifth also b9, #9 and b13, its customary exceptions. Where the symbol alters a 9, 11 or 13 its natural one is none. The major 7th counts
 * as a tension of sixth and diminished chords. Over a minor seventh the 13 is left out: it belongs to Dorian alone.
 */
export function tensionsOf(quality: Quality): ToneNumber[] {
  const keys = quality.tones.map(keyAbove);
  const below = quality.tones.filter((n) => n.number <= 7).map(keyAbove);
  const seventh = quality.tones.find((n) => n.number === 7);
  const third = quality.tones.find((n) => n.number === 3);
  const isDominant = third?.alter === 0 && seventh?.alter === -1;
  const takesExceptions = isDominant && keys.includes(7);
  return candidates.filter((n) => {
    const key = keyAbove(n);
    if (keys.includes(key)) return false;
    const isPlain = n.alter === 0 && n.number !== 7;
    if (isPlain && quality.tones.some((tone) => tone.number === n.number)) return false;
    const isAltered = key === 1 || key === 3 || key === 8;
    if (isDominant && isAltered) return takesExceptions;
    if (n.number === 7) return keys.includes(9) && seventh?.alter !== -1;
    if (n.number === 13 && n.alter === 0 && third?.alter === -1 && seventh?.alter === -1) return false;
    if (n.number === 9 && n.alter !== 0) return false;
    if (n.number === 11 && n.alter === 1 && third === undefined) return false;
    return below.includes((key + 10) % 12);
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
