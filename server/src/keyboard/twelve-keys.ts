import { movedGrip } from "./grip.js";
import { gripShape, inOctave } from "./grip-shape.js";
import type { Hand } from "./hand.js";

/** How a grip lies in a key. What is a stretch is never called easy. */
export type Strain = "easy" | "stretch" | "no";

/** All twelve bits of a set of keys. */
export const everyKey = 0b1111_1111_1111;

const mostShapes = 8_192;
/** By hand and reach, then by shape. */
const byHand = new Map<number, Map<number, number>>();

/**
 * Where a hand holds a grip of this shape: bit i is set where it holds with its lowest key on the i-th key of the
 * octave, C first. `reach` is 5 to 15, 8 an octave.
 */
export function placesHolding(shape: number, hand: Hand, reach: number): number {
  const name = hand === "right" ? reach : -reach;
  let ofHand = byHand.get(name);
  if (ofHand === undefined) {
    ofHand = new Map();
    byHand.set(name, ofHand);
  }
  let places = ofHand.get(shape);
  if (places === undefined) {
    if (ofHand.size >= mostShapes) ofHand.clear();
    places = placesOf(shape, hand, reach);
    ofHand.set(shape, places);
  }
  return places;
}

function placesOf(shape: number, hand: Hand, reach: number): number {
  const keys = [0];
  for (let above = 1; shape >>> above > 0; above++) if ((shape >>> above) & 1) keys.push(above);
  let places = 0;
  for (let place = 0; place < 12; place++)
    if (movedGrip(keys, place, hand, reach).holds) places |= 1 << place;
  return places;
}

/**
 * In which keys a hand holds a grip (distinct MIDI numbers, ascending, at least one): bit i is set where it holds
 * moved i half steps up, which is the same as 12 - i down.
 */
export function keysHolding(keys: readonly number[], hand: Hand, reach: number): number {
  const shape = gripShape(keys);
  if (shape === undefined) return 0;
  const lowest = inOctave(keys[0] as number);
  const places = placesHolding(shape, hand, reach);
  return ((places >> lowest) | (places << (12 - lowest))) & everyKey;
}

/** How a grip lies in each of the twelve keys, by half steps up from where it stands: the first is its own. */
export const twelveKeys = (keys: readonly number[], hand: Hand, reach: number): readonly Strain[] =>
  Array.from({ length: 12 }, (_, by): Strain => {
    const it = movedGrip(keys, by, hand, reach);
    return it.holds ? it.strain : "no";
  });
