import { handGrip } from "../chart/hand-grips.js";
import { type HandMove, handPath, mayHurry } from "../chart/hand-path.js";
import type { SlotEvent } from "../chart/model.js";
import type { Hand } from "../keyboard/hand.js";
import type { JudgedSection } from "./check.js";
import { failingKeys } from "./keys-played.js";
import { type Haste, hastyRoll, type QuickLeap, tooQuick } from "./quick-moves.js";
import { reachOf } from "./unheld-grips.js";

/** A pair of grips, or a roll, for which a hand has too little time, wherever it comes. */
export interface Hurry<T extends Haste> {
  readonly hand: Hand;
  /** In the first of the failing keys. */
  readonly haste: T;
  /** The keys that the form plays in which it fails; empty where it fails in all of them. */
  readonly keys: readonly string[];
}

export interface HurriedLeap extends Hurry<QuickLeap> {
  /** At least one, of one pair of grips. */
  readonly moves: readonly HandMove[];
}

export interface HurriedRoll extends Hurry<Haste> {
  /** At least one, of the same tones. */
  readonly slots: readonly SlotEvent[];
}

const hands = ["right", "left"] as const;

/** All leaps and rolls of a section that have too little time, each pair of grips and each set of tones once. */
export function hurryIn(judged: JudgedSection): {
  readonly leaps: readonly HurriedLeap[];
  readonly rolls: readonly HurriedRoll[];
} {
  const leaps: HurriedLeap[] = [];
  const rolls: HurriedRoll[] = [];
  for (const hand of hands) {
    if (!mayHurry(judged.section, hand)) continue;
    const path = handPath(judged.section, hand);
    leaps.push(...hurriedLeaps(path.moves, hand, judged));
    rolls.push(...hurriedRolls(path.rolls, hand, judged));
  }
  return { leaps, rolls };
}

function hurriedRolls(
  slots: readonly SlotEvent[],
  hand: Hand,
  judged: JudgedSection,
): readonly HurriedRoll[] {
  const found = new Map<string, HurriedRoll & { readonly slots: SlotEvent[] }>();
  const reach = reachOf(judged, hand);
  for (const slot of slots) {
    const it = failing(judged, (by) => hastyRoll(slot, judged.section, reach, by));
    if (it === undefined) continue;
    const name = keysOf(slot);
    const known = found.get(name);
    if (known === undefined) found.set(name, { hand, ...it, slots: [slot] });
    else known.slots.push(slot);
  }
  return [...found.values()];
}

function hurriedLeaps(moves: readonly HandMove[], hand: Hand, judged: JudgedSection): readonly HurriedLeap[] {
  const found = new Map<string, HurriedLeap & { readonly moves: HandMove[] }>();
  const reach = reachOf(judged, hand);
  for (const move of moves) {
    const it = failing(judged, (by) => tooQuick(move, hand, reach, by, by));
    // A roll that has no time itself is told of as one.
    if (it === undefined || it.haste.distance === 0) continue;
    const name = `${keysOf(move.from)} to ${keysOf(move.to)}`;
    const known = found.get(name);
    if (known === undefined) found.set(name, { hand, ...it, moves: [move] });
    else known.moves.push(move);
  }
  return [...found.values()];
}

const keysOf = (slot: SlotEvent): string => `${slot.rolled ? "~" : ""}${handGrip(slot).keys.join(" ")}`;

function failing<T extends Haste>(
  { played }: JudgedSection,
  judge: (halfSteps: number) => T | undefined,
): { readonly haste: T; readonly keys: readonly string[] } | undefined {
  let haste: T | undefined;
  const keys = failingKeys(played, (by) => {
    const it = judge(by);
    haste ??= it;
    return it !== undefined;
  });
  return haste && keys && { haste, keys: keys.names };
}
