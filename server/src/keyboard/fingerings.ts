import { type FingerSpan, fingerSpan, spanUnit } from "./finger-spans.js";
import type { Finger, Hand } from "./hand.js";
import { isBlack, placeOf, whiteKeyWidth } from "./key-place.js";

/** A finger for each key of a grip, from the lowest key to the highest. */
export interface Fingering {
  readonly fingers: readonly Finger[];
  /** What it costs in comfort, in the micrometres of `spanUnit`: 0 is a relaxed hand. */
  readonly cost: number;
  /** Every two fingers stand within what is easy. */
  readonly easy: boolean;
}

/** A pair of keys further apart than two fingers reach: indexes of the grip's keys, lengths in micrometres. */
export interface Overshoot {
  readonly keys: readonly [lower: number, upper: number];
  readonly fingers: readonly [Finger, Finger];
  readonly width: number;
  readonly limit: number;
}

/** The most keys that one hand holds: the thumb may hold two. */
export const mostKeys = 6;

/** All finger lists of a length, from the thumb outward and in dictionary order; the thumb may stand twice. */
const lists: readonly (readonly (readonly Finger[])[])[] = Array.from(
  { length: mostKeys + 1 },
  (_, length) => {
    const found: Finger[][] = [];
    const grow = (list: readonly Finger[]): void => {
      if (list.length === length) {
        found.push([...list]);
        return;
      }
      const last = list[list.length - 1] ?? 0;
      const least = list.length === 1 && last === 1 ? 1 : last + 1;
      for (let finger = least; finger <= 5; finger++) grow([...list, finger as Finger]);
    };
    grow([]);
    return found;
  },
);

/** A grip as the thumb sees it: both hands look alike from there. */
interface FromThumb {
  /** From the thumb's end outward, in micrometres. */
  readonly places: readonly number[];
  readonly black: readonly boolean[];
  readonly canThumbHoldTwo: boolean;
}

function fromThumb(keys: readonly number[], hand: Hand): FromThumb {
  const outward = hand === "right" ? keys : [...keys].reverse();
  const places = outward.map((key) => (hand === "right" ? placeOf(key) : -placeOf(key)));
  const black = outward.map(isBlack);
  const [first = 0, second = 0] = places;
  const isNeighbour =
    black[0] === true
      ? Math.abs((outward[1] ?? 0) - (outward[0] ?? 0)) === 2
      : second - first === whiteKeyWidth;
  return { places, black, canThumbHoldTwo: black[0] === black[1] && isNeighbour };
}

const isDoubleThumb = (list: readonly Finger[]): boolean => list[1] === 1;
const inOrderOfKeys = (list: readonly Finger[], hand: Hand): readonly Finger[] =>
  hand === "right" ? list : [...list].reverse();

/** Runs over every two keys under different fingers. */
function eachPair(
  list: readonly Finger[],
  { places }: FromThumb,
  reach: number,
  visit: (width: number, span: FingerSpan, i: number, j: number) => void,
): void {
  for (let i = 0; i < list.length; i++) {
    for (let j = i + 1; j < list.length; j++) {
      const [lower, upper] = [list[i] as Finger, list[j] as Finger];
      if (lower === upper) continue;
      visit((places[j] as number) - (places[i] as number), fingerSpan(lower, upper, reach), i, j);
    }
  }
}

/** Weights of the cost beside the spans, in units (after rules 10 and 11 of Parncutt et al. 1997; sizes chosen here). */
const thumbOnBlack = 1;
const littleFingerOnBlack = 0.5;
const thumbOnTwoWhite = 3;
const thumbOnTwoBlack = 6;

/** The fingering of a list; `undefined` where two keys are too far apart for their fingers. */
function judged(list: readonly Finger[], grip: FromThumb, hand: Hand, reach: number): Fingering | undefined {
  let cost = 0;
  let easy = true;
  let holds = true;
  eachPair(list, grip, reach, (width, span) => {
    if (width > span.widest) holds = false;
    if (width > span.easy) easy = false;
    cost += Math.max(0, width - span.relaxedMost);
    // Beyond what is easy each unit counts twice more (rules 1 to 3 of Parncutt et al. 1997; weights chosen here).
    cost += 2 * Math.max(0, width - span.comfortable);
    cost += Math.max(0, span.relaxedLeast - width);
  });
  if (!holds) return undefined;
  const { black } = grip;
  const isThumbBlack = list[0] === 1 && black[0] === true;
  if (isThumbBlack) cost += thumbOnBlack * spanUnit;
  if (list[list.length - 1] === 5 && black[list.length - 1] === true) cost += littleFingerOnBlack * spanUnit;
  if (isDoubleThumb(list)) cost += (isThumbBlack ? thumbOnTwoBlack : thumbOnTwoWhite) * spanUnit;
  return { fingers: inOrderOfKeys(list, hand), cost, easy };
}

/**
 * Every way in which a hand holds keys (distinct MIDI numbers, ascending) at once, the least costly first; empty where
 * there is none. Of equal cost the first in dictionary order from the thumb stands first. The fingers of a held chord
 * don't cross, every two keys under different fingers lie within their span, and only the thumb holds two keys, which
 * are neighbours of one colour.
 */
export function fingerings(keys: readonly number[], hand: Hand, reach: number): readonly Fingering[] {
  if (keys.length > mostKeys) return [];
  const grip = fromThumb(keys, hand);
  const found: Fingering[] = [];
  for (const list of lists[keys.length] ?? []) {
    if (isDoubleThumb(list) && !grip.canThumbHoldTwo) continue;
    const fingering = judged(list, grip, hand, reach);
    if (fingering !== undefined) found.push(fingering);
  }
  // Sorting keeps the order of equals.
  return found.sort((a, b) => a.cost - b.cost);
}

/**
 * Where nothing holds: the fingering whose pairs reach too far by the least in all, and those pairs. `undefined` where
 * the keys are more than the fingers.
 */
export function nearestFingering(
  keys: readonly number[],
  hand: Hand,
  reach: number,
): { readonly fingers: readonly Finger[]; readonly over: readonly Overshoot[] } | undefined {
  if (keys.length > mostKeys) return undefined;
  const grip = fromThumb(keys, hand);
  let best: { list: readonly Finger[]; sum: number } | undefined;
  for (const list of lists[keys.length] ?? []) {
    if (isDoubleThumb(list) && !grip.canThumbHoldTwo) continue;
    let sum = 0;
    eachPair(list, grip, reach, (width, { widest }) => {
      sum += Math.max(0, width - widest);
    });
    if (best === undefined || sum < best.sum) best = { list, sum };
  }
  if (best === undefined) return undefined;
  const { list } = best;
  const over: Overshoot[] = [];
  const indexOf = (fromThumb: number): number => (hand === "right" ? fromThumb : keys.length - 1 - fromThumb);
  eachPair(list, grip, reach, (width, { widest }, i, j) => {
    if (width <= widest) return;
    const [a, b] = [indexOf(i), indexOf(j)];
    const pair: readonly [Finger, Finger] = [list[i] as Finger, list[j] as Finger];
    over.push(
      a < b
        ? { keys: [a, b], fingers: pair, width, limit: widest }
        : { keys: [b, a], fingers: [pair[1], pair[0]], width, limit: widest },
    );
  });
  return { fingers: inOrderOfKeys(list, hand), over };
}
