import type { Note } from "../chart/model.js";
import type { Reason } from "../keyboard/grip.js";
import type { Hand } from "../keyboard/hand.js";
import type { GripReason } from "../problems/hand-words.js";
import { intervalName } from "../theory/interval-name.js";
import { prettyPitch } from "../theory/pitch.js";

/**
 * Why a hand can't hold these notes (from the lowest key up, in the order that the reasons count them): the reason that
 * lies furthest out, with names and millimetres; `undefined` where they are too many keys.
 */
export function gripReason({
  hand,
  notes,
  reasons,
}: {
  readonly hand: Hand;
  readonly notes: readonly Note[];
  readonly reasons: readonly Reason[];
}): GripReason | undefined {
  const farthest = reasons.reduce<Reason | undefined>(
    (most, it) => (most === undefined || overshoot(it) > overshoot(most) ? it : most),
    undefined,
  );
  switch (farthest?.kind) {
    case "too-wide": {
      const fingers = hand === "left" ? [5, 1] : [1, 5];
      return { reason: "too-wide", ...spanOf(notes, farthest, fingers) };
    }
    case "span":
      return { reason: "span", ...spanOf(notes, farthest, farthest.fingers) };
    case "no-thumb-pair": {
      const [lower, upper] = hand === "left" ? notes.slice(-2) : notes;
      return lower && upper && { reason: "no-thumb-pair", keys: pairOf(lower, upper), fingers: [1, 1] };
    }
    default:
      return undefined;
  }
}

const overshoot = (it: Reason): number => ("width" in it ? it.width - it.limit : 0);

const pairOf = (lower: Note, upper: Note): readonly [string, string] => [
  prettyPitch(lower.pitch),
  prettyPitch(upper.pitch),
];

function spanOf(
  notes: readonly Note[],
  { keys, width, limit }: { keys: readonly [number, number]; width: number; limit: number },
  fingers: readonly number[],
) {
  const [lower, upper] = [notes[keys[0]] as Note, notes[keys[1]] as Note];
  return {
    keys: pairOf(lower, upper),
    fingers,
    interval: intervalName(lower.pitch, upper.pitch),
    mm: width / 1000,
    limit: limit / 1000,
  };
}
