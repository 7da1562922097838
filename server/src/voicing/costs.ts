import { fingerings } from "../keyboard/fingerings.js";
import { gripShape } from "../keyboard/grip-shape.js";
import type { Hand } from "../keyboard/hand.js";
import { whiteKeyWidth } from "../keyboard/key-place.js";
import { alwaysCovered, travel } from "../keyboard/leap.js";
import { lowestClear } from "../theory/low-intervals.js";
import { pitchClass } from "../theory/note-name.js";
import { keyAbove, type ToneNumber } from "../theory/tone-number.js";
import type { Asked } from "./asked.js";
import type { Candidate } from "./candidates.js";
import { bitOf, bitsOf, type ChordTones, type KeyBits } from "./chord-tones.js";
import type { Style } from "./styles.js";
import { leastVoiceLeading, voiceLeading } from "./voice-leading.js";

/** What counts against a voicing, on its own or after the one before. */
export type Term =
  | "voice leading"
  | "common tones"
  | "resolution"
  | "parallels"
  | "travel"
  | "span"
  | "comfort"
  | "low intervals"
  | "seconds"
  | "register"
  | "colours"
  | "added tones"
  | "doublings"
  | "fullness";

/**
 * What one unit of each term weighs. Whole numbers, so that the same chart gets the same voicing on every machine. The
 * terms are those that arrangers name; the weights were set by reading what they give on cadences, turnarounds and
 * hymn-like passages (chosen here, no source).
 */
export const weights: Readonly<Record<Term, number>> = {
  /** A half step that a voice moves. */
  "voice leading": 2,
  /** A tone that both chords have and that no voice keeps on its key. */
  "common tones": 3,
  /** A seventh, a suspension or an altered tone that no voice takes up within a whole step. */
  resolution: 6,
  /** A fifth or an octave between the outer voices that moves into another. */
  parallels: 16,
  /** A white key's width that a hand has to travel beyond what it covers. */
  travel: 2,
  /** A half step beyond an octave that a hand has to span. */
  span: 1,
  /** A centimetre away from a relaxed hand, over all pairs of fingers. */
  comfort: 1,
  /** A half step nearer than three to where an interval is no longer clear. */
  "low intervals": 2,
  /** A rub: see `rubs`. */
  seconds: 3,
  /** Three half steps from the middle of a hand's home. */
  register: 2,
  /** A tone that the symbol names and that is left out. */
  colours: 18,
  /** A colour that the symbol doesn't name, in a style that doesn't live by them. */
  "added tones": 8,
  /** A third, a seventh or a colour that sounds in two octaves. */
  doublings: 6,
  /** A voice fewer than the fullest voicing there, or than is full in the style. */
  fullness: 5,
};

/** Costs by term, weighed; a term that costs nothing is missing. */
export type Terms = Readonly<Partial<Record<Term, number>>>;

export const sumOf = (terms: Terms): number => Object.values(terms).reduce((sum, cost) => sum + cost, 0);

/** What a voicing costs on its own; `most` is the number of voices of the fullest one there. */
export function ownTerms(
  it: Candidate,
  { tones, most }: { readonly tones: ChordTones; readonly most: number },
  style: Style,
  { reach }: Asked,
): Terms {
  const hands = [
    { hand: "left", keys: it.leftKeys },
    { hand: "right", keys: it.rightKeys },
  ] as const;
  const all = (count: (keys: readonly number[], hand: Hand) => number): number =>
    hands.reduce((sum, { hand, keys }) => sum + (keys.length === 0 ? 0 : count(keys, hand)), 0);
  return weighed({
    span: all((keys) => Math.max(0, width(keys) - 12)),
    comfort: all((keys, hand) => discomfort(keys, hand, reach[hand])),
    "low intervals": nearness(it.keys),
    seconds: rubs(it.keys, tones),
    register: all((keys, hand) => Math.floor(Math.abs(middleOf(keys) - style.home[hand]) / 3)),
    colours: leftOut(it.keys, tones) * (style.leavesColoursOut ? 0 : 1),
    "added tones": style.addsColours ? 0 : added(it, tones),
    doublings: doubled(it, tones, style),
    fullness: Math.max(0, Math.min(most, style.full) - it.keys.length),
  });
}

/** A voicing as its moves are weighed. */
export interface Outline {
  readonly leftKeys: readonly number[];
  readonly rightKeys: readonly number[];
  readonly keys: readonly number[];
  /** Without the bass, whose line leaps as roots do. */
  readonly upper: readonly number[];
  readonly tones: KeyBits;
  /** The keys of tones that want to go on. */
  readonly tends: readonly Tendency[];
}

interface Tendency {
  readonly key: number;
  readonly to: "down" | "step";
}

export function outlineOf(
  { left, right, leftKeys, rightKeys, keys }: Candidate,
  { chord }: ChordTones,
  { hasBass }: Style,
): Outline {
  const isOverBass = hasBass && leftKeys.length > 0 && keys.length > 1;
  const tends: Tendency[] = [];
  for (const hand of [left, right]) {
    for (const { pitch, number } of hand) {
      const to = tendencyOf(number, chord.quality.tones);
      if (to !== undefined) tends.push({ key: pitch.midi, to });
    }
  }
  return {
    leftKeys,
    rightKeys,
    keys,
    upper: isOverBass ? keys.slice(1) : keys,
    tones: bitsOf(keys),
    tends,
  };
}

type Move = (from: Outline, to: Outline, style: Style, asked: Asked) => number;

/** How often each term counts when one voicing follows another. */
const moves: readonly { readonly term: Term; readonly count: Move }[] = [
  { term: "voice leading", count: (from, to) => voiceLeading(from.upper, to.upper) },
  { term: "common tones", count: lostTones },
  { term: "resolution", count: unresolved },
  {
    term: "parallels",
    count: (from, to, { mindsParallels }) => (mindsParallels && isParallel(from.keys, to.keys) ? 1 : 0),
  },
  {
    term: "travel",
    count: (from, to, _, { reach }) =>
      travelled(from.leftKeys, to.leftKeys, reach.left) +
      travelled(from.rightKeys, to.rightKeys, reach.right),
  },
];

/** What it costs to come from one voicing to another, by term. */
export const moveTerms: (...move: Parameters<Move>) => Terms = (...move) =>
  weighed(Object.fromEntries(moves.map(({ term, count }) => [term, count(...move)])));

/** The sum of these; only that it is `enough` or more where it is. */
export function moveCost(from: Outline, to: Outline, style: Style, asked: Asked, enough: number): number {
  if (leastVoiceLeading(from.upper, to.upper) * weights["voice leading"] >= enough) return enough;
  let sum = 0;
  for (const { term, count } of moves) {
    sum += count(from, to, style, asked) * weights[term];
    if (sum >= enough) return sum;
  }
  return sum;
}

function weighed(units: Partial<Record<Term, number>>): Terms {
  const terms: Partial<Record<Term, number>> = {};
  for (const term of Object.keys(units) as Term[]) {
    const count = units[term] ?? 0;
    if (count > 0) terms[term] = count * weights[term];
  }
  return terms;
}

const width = (keys: readonly number[]): number => (keys[keys.length - 1] as number) - (keys[0] as number);
const middleOf = (keys: readonly number[]): number =>
  Math.floor(((keys[0] as number) + (keys[keys.length - 1] as number)) / 2);

const micrometresInCentimetre = 10_000;

const mostRemembered = 16_384;
/** By hand and reach, then by shape and lowest key. */
const knownDiscomfort = new Map<number, Map<number, number>>();

/** Of the most comfortable fingering; a grip that no hand holds was there before, and is nobody's choice. */
function discomfort(keys: readonly number[], hand: Hand, reach: number): number {
  const shape = gripShape(keys);
  if (keys.length < 2 || shape === undefined) return 0;
  const handName = hand === "right" ? reach : -reach;
  const ofHand = knownDiscomfort.get(handName) ?? new Map<number, number>();
  knownDiscomfort.set(handName, ofHand);
  const name = 128 * shape + (keys[0] as number);
  let units = ofHand.get(name);
  if (units === undefined) {
    if (ofHand.size >= mostRemembered) ofHand.clear();
    units = Math.floor((fingerings(keys, hand, reach)[0]?.cost ?? 0) / micrometresInCentimetre);
    ofHand.set(name, units);
  }
  return units;
}

/** How many half steps nearer than three neighbours lie to where their interval is no longer clear. */
function nearness(keys: readonly number[]): number {
  let near = 0;
  for (let i = 1; i < keys.length; i++) {
    const lower = keys[i - 1] as number;
    const limit = lowestClear((keys[i] as number) - lower);
    if (limit !== undefined) near += Math.max(0, limit + 3 - lower);
  }
  return near;
}

/**
 * Half steps between neighbours, more of them under the top voice, where they blur the tune, and below C4; three keys
 * in seconds; and minor ninths, but the one over the root of a chord that has it in its name.
 */
function rubs(keys: readonly number[], { chord, roles }: ChordTones): number {
  let count = 0;
  const root = pitchClass(chord.root);
  const hasFlatNine = roles.ninth.some(({ number, alter }) => number === 9 && alter === -1);
  for (let i = 1; i < keys.length; i++) {
    const [lower, upper] = [keys[i - 1] as number, keys[i] as number];
    const step = upper - lower;
    if (step === 1) count += (i === keys.length - 1 ? 2 : 0) + (lower < middleC ? 2 : 1);
    if (step <= 2 && i > 1 && lower - (keys[i - 2] as number) <= 2) count++;
    for (let j = 0; j < i - 1; j++) {
      const below = keys[j] as number;
      if (upper - below === minorNinth && !(hasFlatNine && below % 12 === root)) count += 2;
    }
  }
  return count;
}
const [middleC, minorNinth] = [60, 13];

/** Tones that the symbol names beside third and seventh and that nothing plays. */
const leftOut = (keys: readonly number[], { named }: ChordTones): number => bitCount(named & ~bitsOf(keys));

/** Colours that the symbol doesn't name. */
const added = ({ left, right }: Candidate, { chord }: ChordTones): number =>
  [...left, ...right].filter(
    ({ number }) => number.number > 7 && !chord.quality.tones.some((n) => keyAbove(n) === keyAbove(number)),
  ).length;

/** Roots and fifths may sound twice, so may the left hand's bass, and the top voice where the style has it so. */
function doubled(
  { left, right }: Candidate,
  { roles: { bass } }: ChordTones,
  { leftDoubles }: Style,
): number {
  if (leftDoubles) return 0;
  const free = ({ number }: ToneNumber): boolean => number === 1 || number === 5;
  const others = [
    ...left.filter(({ number }) => !free(number) && !bass.some((n) => keyAbove(n) === keyAbove(number))),
    ...right.filter(({ number }) => !free(number)),
  ];
  return others.length - bitCount(others.reduce((bits, { pitch }) => bits | bitOf(pitch.midi), 0));
}

function bitCount(bits: KeyBits): number {
  let count = 0;
  for (let rest = bits; rest > 0; rest &= rest - 1) count++;
  return count;
}

/** Tones that both have and that lie on no key of both. */
function lostTones({ keys, tones }: Outline, to: Outline): number {
  let kept = 0;
  for (const key of keys) if (to.keys.includes(key)) kept |= bitOf(key);
  return bitCount(tones & to.tones & ~kept);
}

const wholeStep = 2;

/** Sevenths that don't stay or fall by a step, suspensions and altered tones that don't stay or move by one. */
function unresolved({ tends }: Outline, { keys }: Outline): number {
  let count = 0;
  for (const { key, to } of tends) {
    const isTaken = keys.some((it) =>
      to === "down" ? it <= key && it >= key - wholeStep : Math.abs(it - key) <= wholeStep,
    );
    if (!isTaken) count++;
  }
  return count;
}

/** Where a tone of a chord wants to go (common practice, no source); `undefined` where it is free. */
function tendencyOf(n: ToneNumber, tones: readonly ToneNumber[]): Tendency["to"] | undefined {
  if (n.number === 7 && n.alter < 0) return "down";
  const hasThird = tones.some(({ number }) => number === 3);
  if (!hasThird && n.number === 4) return "step";
  return n.alter !== 0 && (n.number > 7 || n.number === 5) ? "step" : undefined;
}

/** Whether the outer voices go from a fifth or an octave into another of the same, both on the move. */
function isParallel(from: readonly number[], to: readonly number[]): boolean {
  if (from.length < 2 || to.length < 2) return false;
  const [low, high] = [from[0] as number, from[from.length - 1] as number];
  const [toLow, toHigh] = [to[0] as number, to[to.length - 1] as number];
  const interval = (high - low) % 12;
  return (
    toLow !== low &&
    toHigh !== high &&
    interval === (toHigh - toLow) % 12 &&
    (interval === 0 || interval === 7)
  );
}

function travelled(from: readonly number[], to: readonly number[], reach: number): number {
  if (from.length === 0 || to.length === 0) return 0;
  const low = Math.min(from[0] as number, to[0] as number);
  const high = Math.max(from[from.length - 1] as number, to[to.length - 1] as number);
  return high - low <= alwaysCovered ? 0 : Math.ceil(travel(from, to, reach) / whiteKeyWidth);
}
