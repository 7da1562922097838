import type { Chord } from "./chord.js";
import { degreeInKey, type Key, scaleOf, triadOn } from "./key.js";
import { pitchClass } from "./note-name.js";
import type { Quality } from "./quality.js";
import { fifthsAbove, isSameNumber, prettyNumber, type ToneNumber } from "./tone-number.js";

export type FunctionKind =
  | "diatonic"
  | "dominant"
  | "suspended-dominant"
  | "leading-tone"
  | "tritone-substitute"
  | "passing-diminished"
  | "borrowed"
  | "outside";

/** What a chord does in its key. */
export interface HarmonicFunction {
  readonly kind: FunctionKind;
  /** The root, counted in the key. */
  readonly degree: ToneNumber;
  /** The degree it points to; `undefined` where it points nowhere, or nothing follows. */
  readonly of?: ToneNumber;
  /** Whether the next chord is the one it points to; `undefined` where it points nowhere. */
  readonly resolves?: boolean;
  /** In a player's words. */
  readonly text: string;
}

const tone = (quality: Quality, number: number): ToneNumber | undefined =>
  quality.tones.find((n) => n.number === number);

const has = (quality: Quality, number: number, alter: number): boolean =>
  quality.tones.some((n) => isSameNumber(n, { number, alter }));

/** The tones that make the chord what it is: root, third or suspension, fifth, seventh. Colours don't count. */
function coreOf(chord: Chord): number[] {
  const { quality, root } = chord;
  const hasThird = tone(quality, 3) !== undefined;
  return quality.tones
    .filter(
      (n) =>
        n.number === 1 || n.number === 3 || n.number === 5 || n.number === 7 || (!hasThird && n.number < 6),
    )
    .map((n) => root + fifthsAbove(n));
}

const isWithin = (tones: readonly number[], scale: readonly number[]): boolean =>
  tones.every((fifths) => scale.includes(fifths));

/** A minor tonic's natural, harmonic and melodic scales. */
const minorScales = (tonic: number): readonly (readonly number[])[] =>
  [
    [0, 2, -3, -1, 1, -4, -2],
    [0, 2, -3, -1, 1, -4, 5],
    [0, 2, -3, -1, 1, 3, 5],
  ].map((scale) => scale.map((fifths) => tonic + fifths));

const isMinorMode = (key: Key): boolean => key.mode === "minor" || key.mode === "aeolian";

/** In minor the dominant and the leading-tone chord with the raised seventh are the key's own too. */
function isOwn(chord: Chord, key: Key): boolean {
  const core = coreOf(chord);
  if (isWithin(core, scaleOf(key))) return true;
  // However its fifth is altered, the dominant seventh on the 5 is the key's own.
  const hasDominant = isMinorMode(key) || triadOn(key, 5).third === "major";
  if (hasDominant && chord.root === key.tonic + 1 && has(chord.quality, 3, 0) && has(chord.quality, 7, -1)) {
    return true;
  }
  if (!isMinorMode(key)) return false;
  const leadingTone = key.tonic + 5;
  const isDominantRoot = chord.root === key.tonic + 1 || chord.root === leadingTone;
  return isDominantRoot && isWithin(core, minorScales(key.tonic)[1] as readonly number[]);
}

/** The mode that a chord of this key may be borrowed from; only where third and scale differ. */
function borrowedFrom(chord: Chord, key: Key): "minor" | "major" | undefined {
  const core = coreOf(chord);
  const isMinorThird = triadOn(key, 1).third === "minor";
  if (isMinorThird) {
    return isWithin(core, scaleOf({ tonic: key.tonic, mode: "major" })) ? "major" : undefined;
  }
  // Not from melodic minor: its 6 is the major key's own, so F7 in C would pass for a chord of C minor.
  const [natural, harmonic] = minorScales(key.tonic);
  return [natural, harmonic].some((scale) => isWithin(core, scale as readonly number[]))
    ? "minor"
    : undefined;
}

/** Major third, and a minor seventh or none: a chord that can pull a fifth down. */
const isDominant = (quality: Quality): boolean =>
  has(quality, 3, 0) &&
  (tone(quality, 7) === undefined || has(quality, 7, -1)) &&
  tone(quality, 6) === undefined;

const isSuspended = (quality: Quality): boolean =>
  tone(quality, 3) === undefined && tone(quality, 4) !== undefined && has(quality, 7, -1);

const isDiminished = (quality: Quality): boolean =>
  has(quality, 3, -1) && has(quality, 5, -1) && !has(quality, 5, 0);

/** Half steps from one tone up to the next, 0 to 11. */
const up = (from: number, to: number): number => (((pitchClass(to) - pitchClass(from)) % 12) + 12) % 12;

/** What the chord does on the way to the next one, whatever it is in the key. */
function towards(chord: Chord, next: Chord, key: Key): FunctionKind | undefined {
  const { quality, root } = chord;
  const move = up(root, next.root);
  if (move === 5 && isDominant(quality)) return "dominant";
  if (move === 5 && isSuspended(quality)) return "suspended-dominant";
  if (move === 1 && isDiminished(quality)) return "leading-tone";
  // A half step down to a degree of the key: down to another key it is a change of key.
  const isHome = scaleOf(key).some((fifths) => up(fifths, next.root) === 0);
  if (move === 11 && has(quality, 3, 0) && has(quality, 7, -1) && isHome) return "tritone-substitute";
  const bassMove = up(chord.bass ?? root, next.bass ?? next.root);
  const isPassing = bassMove === 1 || bassMove === 11;
  if (isPassing && isDiminished(quality) && !has(quality, 7, -1)) return "passing-diminished";
  return undefined;
}

/**
 * The key's own chord. Its dominant and its leading-tone chord point to the tonic, and say whether it comes. In minor
 * the natural 7 says so of the 3, the relative major, whose dominant it is.
 */
function ownFunction(chord: Chord, key: Key, next: Chord | undefined, degree: ToneNumber): HarmonicFunction {
  const { quality, root } = chord;
  const text = `the ${prettyNumber(degree)}`;
  if (isMinorMode(key) && root === key.tonic - 2 && next !== undefined) {
    const resolves = up(key.tonic - 3, next.root) === 0;
    const hasSeventh = has(quality, 7, -1) && (isDominant(quality) || isSuspended(quality));
    if (hasSeventh || (resolves && isDominant(quality))) {
      const of = { number: 3, alter: 0 };
      const name = towardsWords[isSuspended(quality) ? "suspended-dominant" : "dominant"];
      const words = hasSeventh ? `${name} 3, and goes there` : "and goes to the 3";
      return { kind: "diatonic", degree, of, resolves, text: resolves ? `${text}, ${words}` : text };
    }
  }
  const isPulling =
    (root === key.tonic + 1 && (isDominant(quality) || isSuspended(quality))) ||
    (root === key.tonic + 5 && isDiminished(quality));
  if (!isPulling || next === undefined) return { kind: "diatonic", degree, text };
  const resolves = up(key.tonic, next.root) === 0;
  const of = { number: 1, alter: 0 };
  return { kind: "diatonic", degree, of, resolves, text: resolves ? `${text}, and goes to the 1` : text };
}

const towardsWords: Readonly<Partial<Record<FunctionKind, string>>> = {
  dominant: "dominant of the",
  "suspended-dominant": "suspended dominant of the",
  "leading-tone": "leading-tone chord of the",
  "tritone-substitute": "tritone substitute for the dominant of the",
  "passing-diminished": "passing diminished chord to the",
};

/** The tonic of the degree that a dominant aims at where it doesn't get there: a degree with a perfect fifth. */
function aimOf(chord: Chord, key: Key): ToneNumber | undefined {
  if (!isDominant(chord.quality) && !isSuspended(chord.quality)) return undefined;
  const target = degreeInKey(key, chord.root - 1);
  const isSteady = target.alter === 0 && triadOn(key, target.number).fifth === "perfect";
  return isSteady ? target : undefined;
}

/**
 * What a chord does in its key. `next` is the next chord with another root or quality, `undefined` at the end or
 * where none sounds. The first that fits: the key's own chord; by the next chord its dominant, suspended dominant,
 * leading-tone chord, tritone substitute or passing diminished; borrowed; the dominant of a degree that doesn't
 * come; outside. A dominant resolves whatever quality its target has. The tonic's own dominant is the key's own as
 * long as its colours are the only tones from outside.
 */
export function functionOf(chord: Chord, key: Key, next: Chord | undefined): HarmonicFunction {
  const degree = degreeInKey(key, chord.root);
  const the = `the ${prettyNumber(degree)}`;
  if (isOwn(chord, key)) return ownFunction(chord, key, next, degree);
  const way = next === undefined ? undefined : towards(chord, next, key);
  if (way !== undefined && next !== undefined) {
    const of = degreeInKey(key, next.root);
    const over = next.bass === undefined ? "" : ` over ${prettyNumber(degreeInKey(key, next.bass))}`;
    const isDominantKind = way === "dominant" || way === "suspended-dominant";
    const after = isDominantKind ? ", and goes there" : way === "passing-diminished" ? over : "";
    const text = `${towardsWords[way]} ${prettyNumber(of)}${after}`;
    return { kind: way, degree, of, resolves: true, text };
  }
  const from = borrowedFrom(chord, key);
  if (from !== undefined)
    return { kind: "borrowed", degree, text: `${the}, borrowed from the parallel ${from}` };
  const aim = aimOf(chord, key);
  if (aim !== undefined) {
    const kind = isSuspended(chord.quality) ? "suspended-dominant" : "dominant";
    return {
      kind,
      degree,
      of: aim,
      resolves: false,
      text: `${towardsWords[kind]} ${prettyNumber(aim)}, which doesn't come`,
    };
  }
  return { kind: "outside", degree, text: `${the}, from outside the key` };
}
