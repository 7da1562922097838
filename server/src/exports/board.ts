import { isBlack, placeOf, whiteKeyWidth } from "../keyboard/key-place.js";
import { highestKey, lowestKey } from "../keyboard/keyboard-range.js";
import { box, type Point } from "./drawing.js";

/** A stretch of the keyboard: its lowest and its highest white key, MIDI numbers. */
export interface KeyRange {
  readonly first: number;
  readonly last: number;
}

/** How large keys are drawn, in points. */
export interface KeySizes {
  readonly whiteWidth: number;
  readonly whiteLength: number;
  readonly blackWidth: number;
  readonly blackLength: number;
}

/** A stretch of the keyboard as it is drawn; `left` and `top` are the corner of its lowest key. */
export interface Board extends KeyRange, KeySizes {
  readonly left: number;
  readonly top: number;
}

const [middleC, c, e, f, b] = [60, 0, 4, 5, 11];

/**
 * The stretch around keys (ascending MIDI numbers of the piano's 88): from a C or an F to an E or a B, so that groups of
 * black keys stay whole, and with `fewest` white keys at least. Without keys it lies around middle C.
 */
export function rangeAround(keys: readonly number[], fewest: number): KeyRange {
  let first = down(keys[0] ?? middleC);
  let last = up(keys[keys.length - 1] ?? middleC);
  while (whiteKeysIn({ first, last }) < fewest) {
    if (last < highestKey) last = up(last + 1);
    if (first > lowestKey && whiteKeysIn({ first, last }) < fewest) first = down(first - 1);
  }
  return { first, last };
}

const down = (midi: number): number =>
  midi <= lowestKey ? lowestKey : midi % 12 === c || midi % 12 === f ? midi : down(midi - 1);
const up = (midi: number): number =>
  midi >= highestKey ? highestKey : midi % 12 === e || midi % 12 === b ? midi : up(midi + 1);

export const whiteKeysIn = ({ first, last }: KeyRange): number =>
  (placeOf(last) - placeOf(first)) / whiteKeyWidth + 1;

/** All keys of a stretch, from the lowest up. */
export const keysOf = ({ first, last }: KeyRange): readonly number[] =>
  Array.from({ length: last - first + 1 }, (_, i) => first + i);

/** The middle of a key, from the drawing's left side. */
export const middleOf = (midi: number, { first, left, whiteWidth }: Board): number =>
  left + ((placeOf(midi) - placeOf(first)) / whiteKeyWidth + 0.5) * whiteWidth;

/** How wide and how long a key is drawn. */
export const sizeOf = (midi: number, board: KeySizes): readonly [width: number, length: number] =>
  isBlack(midi) ? [board.blackWidth, board.blackLength] : [board.whiteWidth, board.whiteLength];

export function outlineOf(midi: number, board: Board): readonly Point[] {
  const [width, length] = sizeOf(midi, board);
  return box(middleOf(midi, board) - width / 2, board.top, width, length);
}

/** Lines that slant up to the right over a box, as engravers hatch, `step` apart; no line leaves it. */
export function hatching(
  [left, right]: readonly [number, number],
  [upper, lower]: readonly [number, number],
  step: number,
): readonly (readonly Point[])[] {
  const lines: Point[][] = [];
  const width = right - left;
  for (let start = upper + step / 2; start - width < lower; start += step) {
    // From (left, start) up to (right, start - width), cut where the box ends.
    const from: Point = start <= lower ? [left, start] : [left + start - lower, lower];
    const end = start - width;
    const to: Point = end >= upper ? [right, end] : [right - (upper - end), upper];
    lines.push([from, to]);
  }
  return lines;
}
