import { widestSpan } from "./finger-spans.js";
import { fingerings, mostKeys, nearestFingering, type Overshoot } from "./fingerings.js";
import { gripShape, inOctave } from "./grip-shape.js";
import type { Finger, Hand } from "./hand.js";
import { placeOf } from "./key-place.js";

/** Whether one hand can hold keys down at once: the one definition of what is playable. */
export type Grip = Held | NotHeld;

export interface Held {
  readonly holds: true;
  /** The most comfortable ones, from the lowest key to the highest. */
  readonly fingers: readonly Finger[];
  /** What holds is not always easy. */
  readonly strain: "easy" | "stretch";
}

export interface NotHeld {
  readonly holds: false;
  /** All there are, at least one. */
  readonly reasons: readonly Reason[];
  /** The fingering that comes nearest; `undefined` where there are more keys than fingers. */
  readonly nearest: readonly Finger[] | undefined;
}

/** Why no hand holds a grip. Keys are indexes of the grip's keys, lengths are in micrometres. */
export type Reason =
  | { readonly kind: "too-many-keys"; readonly count: number; readonly most: number }
  | {
      readonly kind: "too-wide";
      readonly keys: readonly [lower: number, upper: number];
      readonly width: number;
      readonly limit: number;
    }
  /** Six keys, and the two at the thumb's end are no neighbours of one colour. */
  | { readonly kind: "no-thumb-pair"; readonly count: number }
  | ({ readonly kind: "span" } & Overshoot);

const mostShapes = 8_192;
/** By hand and reach, then by shape, then by the lowest key's place. */
const byHand = new Map<number, Map<number, (Grip | undefined)[]>>();

/** Whether a hand holds keys (distinct MIDI numbers, ascending, at least one) at once; `reach` is 5 to 15, 8 an octave. */
export const grip = (keys: readonly number[], hand: Hand, reach: number): Grip =>
  movedGrip(keys, 0, hand, reach);

/** The same of keys moved by half steps: in twelve keys a grip is looked up and not searched for. */
export function movedGrip(keys: readonly number[], by: number, hand: Hand, reach: number): Grip {
  const shape = gripShape(keys);
  if (shape === undefined) return made(keys, by, hand, reach);
  const grips = gripsOfShape(shape, hand, reach);
  const place = inOctave((keys[0] as number) + by);
  const known = grips[place];
  if (known !== undefined) return known;
  const it = made(keys, by, hand, reach);
  grips[place] = it;
  return it;
}

function gripsOfShape(shape: number, hand: Hand, reach: number): (Grip | undefined)[] {
  const name = hand === "right" ? reach : -reach;
  const ofHand = byHand.get(name) ?? new Map<number, (Grip | undefined)[]>();
  byHand.set(name, ofHand);
  let grips = ofHand.get(shape);
  if (grips === undefined) {
    if (ofHand.size >= mostShapes) ofHand.clear();
    grips = new Array<Grip | undefined>(12).fill(undefined);
    ofHand.set(shape, grips);
  }
  return grips;
}

function made(keys: readonly number[], by: number, hand: Hand, reach: number): Grip {
  const moved = by === 0 ? keys : keys.map((key) => key + by);
  const [best] = fingerings(moved, hand, reach);
  if (best !== undefined)
    return { holds: true, fingers: best.fingers, strain: best.easy ? "easy" : "stretch" };
  const nearest = nearestFingering(moved, hand, reach);
  return { holds: false, reasons: reasonsOf(moved, reach, nearest?.over), nearest: nearest?.fingers };
}

function reasonsOf(
  keys: readonly number[],
  reach: number,
  over: readonly Overshoot[] | undefined,
): readonly Reason[] {
  const count = keys.length;
  if (count > mostKeys) return [{ kind: "too-many-keys", count, most: mostKeys }];
  const width = placeOf(keys[count - 1] as number) - placeOf(keys[0] as number);
  const limit = widestSpan(reach);
  if (width > limit) return [{ kind: "too-wide", keys: [0, count - 1], width, limit }];
  if (over === undefined) return [{ kind: "no-thumb-pair", count }];
  return over.map((it) => ({ kind: "span", ...it }));
}
