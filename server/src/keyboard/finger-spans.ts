import type { Finger } from "./hand.js";

/**
 * How far two fingers of a hand stand apart, in micrometres between the keys under them, from the finger nearer the
 * thumb outward. Below 0 the thumb has passed under.
 */
export interface FingerSpan {
  /** The widest that can be held. */
  readonly widest: number;
  /** The widest that is easy. */
  readonly easy: number;
  /** From here on a span costs comfort: the published figure of what is easy, as it stands. */
  readonly comfortable: number;
  /** The relaxed hand: no nearer and no wider than this. */
  readonly relaxedLeast: number;
  readonly relaxedMost: number;
  /** From one note to the next of a line: nearer than this costs comfort. */
  readonly comfortableLeast: number;
  /** From one note to the next of a line: no nearer than this. */
  readonly least: number;
}

/** MinPrac, MinComf, MinRel, MaxRel, MaxComf and MaxPrac, in units of half a white key. */
type Row = readonly [number, number, number, number, number, number];

/**
 * The small, medium and large hand of M. Balliauw, D. Herremans, D. Palhazi Cuervo and K. Sörensen (2017), A variable
 * neighborhood search algorithm to generate piano fingerings for polyphonic sheet music. Their widest span of thumb
 * and little finger is an octave, a ninth and a tenth: the hands of reach 8, 9 and 10.
 */
const published: Readonly<Record<string, readonly [small: Row, medium: Row, large: Row]>> = {
  "1-2": [
    [-7, -5, 1, 3, 8, 10],
    [-8, -6, 1, 5, 8, 10],
    [-10, -8, 1, 6, 9, 11],
  ],
  "1-3": [
    [-6, -4, 3, 6, 10, 12],
    [-7, -5, 3, 9, 12, 14],
    [-8, -6, 3, 9, 13, 15],
  ],
  "1-4": [
    [-4, -2, 5, 8, 11, 13],
    [-5, -3, 5, 11, 13, 15],
    [-6, -4, 5, 11, 14, 16],
  ],
  "1-5": [
    [-2, 0, 7, 10, 12, 14],
    [-2, 0, 7, 12, 14, 16],
    [-2, 0, 7, 12, 16, 18],
  ],
  "2-3": [
    [1, 1, 1, 2, 4, 6],
    [1, 1, 1, 2, 5, 7],
    [1, 1, 1, 2, 5, 7],
  ],
  "2-4": [
    [1, 1, 3, 4, 6, 8],
    [1, 1, 3, 4, 6, 8],
    [1, 1, 3, 4, 6, 8],
  ],
  "2-5": [
    [2, 2, 5, 6, 8, 10],
    [2, 2, 5, 6, 10, 12],
    [2, 2, 5, 6, 10, 12],
  ],
  "3-4": [
    [1, 1, 1, 2, 2, 4],
    [1, 1, 1, 2, 2, 4],
    [1, 1, 1, 2, 2, 4],
  ],
  "3-5": [
    [1, 1, 3, 4, 6, 8],
    [1, 1, 3, 4, 6, 8],
    [1, 1, 3, 4, 6, 8],
  ],
  "4-5": [
    [1, 1, 1, 2, 4, 6],
    [1, 1, 1, 2, 4, 6],
    [1, 1, 1, 2, 4, 6],
  ],
};

/** Half a white key, the tables' unit, in micrometres. */
export const spanUnit = 11_750;
/**
 * A hand of reach 9 holds a ninth of white keys and not a tenth: its limit lies somewhere between. This is the middle,
 * and a little more, so that no pair of keys lies on the edge (chosen here, no source).
 */
export const slack = 12_500;
/** A white key and the nearest black one are 8.4 mm apart, and a unit to the tables (chosen here, no source). */
const closeKeys = 4_750;

const [smallReach, mediumReach, largeReach] = [8, 9, 10];

/** A column of the tables at any reach: beyond the three hands it grows or shrinks as it does between them. */
function scaled([small, medium, large]: readonly number[], reach: number): number {
  const [s, m, l] = [small as number, medium as number, large as number];
  if (reach === mediumReach) return m;
  const step = (l - s) / 2;
  return reach < mediumReach ? s + step * (reach - smallReach) : l + step * (reach - largeReach);
}

/** A relaxed hand has the size of the nearest of the three. */
const nearestHand = (reach: number): number => Math.min(Math.max(reach, smallReach), largeReach);

function spanOf(pair: string, reach: number): FingerSpan {
  const hands = published[pair] as readonly Row[];
  const column = (index: number, of: number): number =>
    scaled(
      hands.map((row) => row[index] as number),
      of,
    ) * spanUnit;
  return {
    least: column(0, nearestHand(reach)) - closeKeys,
    comfortableLeast: column(1, nearestHand(reach)),
    relaxedLeast: column(2, nearestHand(reach)),
    relaxedMost: column(3, nearestHand(reach)),
    comfortable: column(4, reach),
    easy: column(4, reach) + slack,
    widest: column(5, reach) + slack,
  };
}

const byReach = new Map<number, readonly FingerSpan[]>();

/**
 * The span of two fingers, `lower` nearer the thumb, of a hand that reaches so many white keys (8 is an octave; a
 * whole number from 5 to 15).
 */
export function fingerSpan(lower: Finger, upper: Finger, reach: number): FingerSpan {
  let spans = byReach.get(reach);
  if (spans === undefined) {
    const made: FingerSpan[] = [];
    for (const pair of Object.keys(published)) {
      const [i, j] = [Number(pair[0]), Number(pair[2])];
      made[i * 6 + j] = spanOf(pair, reach);
    }
    spans = made;
    byReach.set(reach, spans);
  }
  return spans[lower * 6 + upper] as FingerSpan;
}

/** The widest span of a hand, from thumb to little finger, in micrometres. */
export const widestSpan = (reach: number): number => fingerSpan(1, 5, reach).widest;
