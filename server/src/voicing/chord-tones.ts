import { type Chord, chordNumber } from "../theory/chord.js";
import { avoidNotes, scalesFor, tensionsOf } from "../theory/chord-scales.js";
import { functionOf } from "../theory/harmonic-function.js";
import type { Key } from "../theory/key.js";
import { pitchClass } from "../theory/note-name.js";
import { contradicts, guideTones, type Quality } from "../theory/quality.js";
import { keyAbove, numberOf, type ToneNumber, upper } from "../theory/tone-number.js";

/** What a tone does in a chord. Styles ask for tones by these, so one style serves every chord. */
export type Role =
  | "bass"
  | "root"
  /** The third, or what is suspended in its place. */
  | "third"
  | "fifth"
  /** A fifth that is perfect above the bass: it may lie low. */
  | "low fifth"
  /** The seventh, or the sixth of a sixth chord. */
  | "seventh"
  /** The same, and of a plain triad the tone of its scale that fills it up to four: the minor seventh, else the sixth. */
  | "fourth tone"
  /** By the symbol, else what the chord's scale offers there. */
  | "ninth"
  | "eleventh"
  | "thirteenth"
  /** Any colour that the symbol names. */
  | "colour";

/** A set of keys within the octave: a bit for each half step above C. */
export type KeyBits = number;
export const bitOf = (midi: number): KeyBits => 1 << (((midi % 12) + 12) % 12);
export const bitsOf = (keys: readonly number[]): KeyBits => keys.reduce((bits, key) => bits | bitOf(key), 0);

/** What a voicing has to know of a chord in its place. */
export interface ChordTones {
  readonly chord: Chord;
  /** The tones that may play each role; none where the chord has no such tone. */
  readonly roles: Readonly<Record<Role, readonly ToneNumber[]>>;
  /** What must sound: third and seventh as the symbol promises them, or the suspension. */
  readonly guides: KeyBits;
  /**
   * What the symbol names beside them and nobody should miss: the altered fifth, the sixth, altered colours, and of the
   * natural ones in a row of thirds the highest (a 13 without its 9 is still a 13); the root over another bass.
   */
  readonly named: KeyBits;
  /** Chord tones and colours that may be held without a clash, by the best scale alone and by each scale in use. */
  readonly scales: readonly (readonly ToneNumber[])[];
}

const isSeventhOrSixth = ({ number }: ToneNumber): boolean => number === 7 || number === 6;
const of = ({ tones }: Quality, ...numbers: readonly number[]): readonly ToneNumber[] =>
  tones.filter(({ number }) => numbers.includes(number));

/** The tones in a chord's place in its key; `next` is the next chord that is another, which says what this one does. */
export function chordTones(chord: Chord, key: Key, next: Chord | undefined): ChordTones {
  const { quality, root } = chord;
  const scales = scalesFor(chord, key, functionOf(chord, key, next));
  const tensions = tensionsOf(quality);
  const usable = scales.map((scale) => {
    const avoided = avoidNotes(chord, scale).map(pitchClass);
    const inScale = scale.tones.map(pitchClass).filter((it) => !avoided.includes(it));
    const offered = tensions.filter(
      (n) => n.number > 7 && inScale.includes(keyOf(root, n)) && isFree(quality, n),
    );
    return [...quality.tones, ...offered];
  });
  const best = usable[0] ?? quality.tones;
  const third = of(quality, 3);
  const suspended = third.length > 0 ? [] : [...of(quality, 4), ...of(quality, 2)].slice(0, 1);
  const sevenths = of(quality, 7).length > 0 ? of(quality, 7) : of(quality, 6);
  const fourth = sevenths.length > 0 ? sevenths : fillingOf(chord, scales[0]?.tones ?? []);
  const colours = quality.tones.filter(
    (n) =>
      n.number > 7 ||
      (third.length > 0 && (n.number === 2 || n.number === 4)) ||
      (n.number === 6 && sevenths[0]?.number === 7),
  );
  const colour = (number: number): readonly ToneNumber[] => {
    const own = colours.filter((n) => upper(n).number === number);
    return own.length > 0 ? own : best.filter((n) => n.number === number);
  };
  const bass = chord.bass === undefined ? { number: 1, alter: 0 } : chordNumber(chord, chord.bass);
  const lowFifth = numberOf(root, (chord.bass ?? root) + 1);
  const natural = Math.max(0, ...colours.filter(({ alter }) => alter === 0).map(({ number }) => number));
  const altered = of(quality, 5).filter(({ alter }) => alter !== 0);
  const bits = (numbers: readonly ToneNumber[]): KeyBits =>
    numbers.reduce((all, n) => all | bitOf(keyOf(root, n)), 0);
  return {
    chord,
    roles: {
      bass: [bass],
      root: of(quality, 1),
      third: [...third, ...suspended],
      fifth: of(quality, 5),
      "low fifth": quality.tones.filter((n) => keyAbove(n) === keyAbove(lowFifth)),
      seventh: sevenths,
      "fourth tone": fourth,
      ninth: colour(9),
      eleventh: colour(11),
      // A sixth is the same tone.
      thirteenth: fourth[0]?.number === 6 ? [] : colour(13),
      colour: colours,
    },
    guides: bits([...guideTones(quality), ...suspended]),
    named: bits([
      ...colours.filter((n) => n.alter !== 0 || n.number === natural || sevenths[0]?.number !== 7),
      ...altered,
      ...of(quality, 6),
      ...(bass.number === 1 ? [] : of(quality, 1)),
    ]),
    scales: usable.length > 0 ? usable : [quality.tones],
  };
}

/** The key of a tone within the octave, C is 0. */
export const keyOf = (root: number, n: ToneNumber): number => (pitchClass(root) + keyAbove(n)) % 12;

/** Whether a colour may join those that the symbol has: it contradicts nothing, and its place is free. */
const isFree = (quality: Quality, n: ToneNumber): boolean =>
  !contradicts(quality, n) &&
  !quality.tones.some(
    (tone) =>
      (tone.number !== 5 || tone.alter !== 0) &&
      tone.number !== 3 &&
      tone.number !== 1 &&
      tone.number !== 7 &&
      isSamePlace(tone, n),
  );

/** A natural and an altered form of one tone: 9 and ♭9, 13 and ♭13, but also ♯11 and ♭5, ♭13 and ♯5. */
function isSamePlace(a: ToneNumber, b: ToneNumber): boolean {
  if (keyAbove(a) === keyAbove(b)) return true;
  if (upper(a).number === upper(b).number) return true;
  return a.number === 5 && ((a.alter < 0 && b.number === 11) || (a.alter > 0 && b.number === 13));
}

/** What fills a triad up to four tones: the minor seventh of its scale, else a sixth (common practice, no source). */
function fillingOf({ quality, root }: Chord, scale: readonly number[]): readonly ToneNumber[] {
  if (quality.tones.some(isSeventhOrSixth) || of(quality, 5).some(({ alter }) => alter > 0)) return [];
  if (quality.tones.length < 3) return [];
  const inScale = scale.map((fifths) => numberOf(root, fifths));
  const has = (number: number, alter: number): readonly ToneNumber[] =>
    inScale.filter((n) => n.number === number && n.alter === alter);
  const seventh = has(7, -1);
  if (seventh.length > 0) return seventh;
  return of(quality, 5).some(({ alter }) => alter === 0) ? has(6, 0) : [];
}
