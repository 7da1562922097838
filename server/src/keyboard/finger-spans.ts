import type { Finger } from "./hand.js";

/** How far two fingers of a hand stand apart, in micrometres between the keys under them. */
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
}

/** MinRel, MaxRel, MaxComf and MaxPrac, in units of half a white key. */
type Row = readonly [number, number, number, number];

/**
 * The small, medium and large hand of M. Balliauw, D. Herremans, D. Palhazi Cuervo and K. Sörensen (2017), A variable
 * neighborhood search algorithm to generate piano fingerings for polyphonic sheet music. Their widest span of thumb
 * and little finger is an octave, a ninth and a tenth: the hands of reach 8, 9 and 10.
 */
const published: Readonly<Record<string, readonly [small: Row, medium: Row, large: Row]>> = {
  "1-2": [
    [1, 3, 8, 10],
    [1, 5, 8, 10],
    [1, 6, 9, 11],
  ],
  "1-3": [
    [3, 6, 10, 12],
    [3, 9, 12, 14],
    [3, 9, 13, 15],
  ],
  "1-4": [
    [5, 8, 11, 13],
    [5, 11, 13, 15],
    [5, 11, 14, 16],
  ],
  "1-5": [
    [7, 10, 12, 14],
    [7, 12, 14, 16],
    [7, 12, 16, 18],
  ],
  "2-3": [
    [1, 2, 4, 6],
    [1, 2, 5, 7],
    [1, 2, 5, 7],
  ],
  "2-4": [
    [3, 4, 6, 8],
    [3, 4, 6, 8],
    [3, 4, 6, 8],
  ],
  "2-5": [
    [5, 6, 8, 10],
    [5, 6, 10, 12],
    [5, 6, 10, 12],
  ],
  "3-4": [
    [1, 2, 2, 4],
    [1, 2, 2, 4],
    [1, 2, 2, 4],
  ],
  "3-5": [
    [3, 4, 6, 8],
    [3, 4, 6, 8],
    [3, 4, 6, 8],
  ],
  "4-5": [
    [1, 2, 4, 6],
    [1, 2, 4, 6],
    [1, 2, 4, 6],
  ],
};

/** Half a white key, the tables' unit, in micrometres. */
export const spanUnit = 11_750;
/**
 * A hand of reach 9 holds a ninth of white keys and not a tenth: its limit lies somewhere between. This is the middle,
 * and a little more, so that no pair of keys lies on the edge (chosen here, no source).
 */
const slack = 12_500;

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
    relaxedLeast: column(0, nearestHand(reach)),
    relaxedMost: column(1, nearestHand(reach)),
    comfortable: column(2, reach),
    easy: column(2, reach) + slack,
    widest: column(3, reach) + slack,
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
