import { type HandGrip, handGrips } from "../chart/hand-grips.js";
import { heldAtOnce } from "../chart/held-keys.js";
import type { Note, SlotEvent } from "../chart/model.js";
import { mostKeys } from "../keyboard/fingerings.js";
import { movedGrip, type Reason } from "../keyboard/grip.js";
import { inOctave } from "../keyboard/grip-shape.js";
import { type Hand, usualReach } from "../keyboard/hand.js";
import { placesHolding } from "../keyboard/twelve-keys.js";
import type { PlayedSection } from "./check.js";
import { type FailingKeys, failingKeys } from "./keys-played.js";

/** A set of keys that a hand would have to hold at once and can't, with every place where it would. */
export interface UnheldGrip {
  readonly hand: Hand;
  /** Those that would be held, from the lowest key up. */
  readonly notes: readonly Note[];
  readonly keys: readonly number[];
  /** Where the form plays it so, and how far that lies from the printed keys: 0 where it fails as printed. */
  readonly failing: FailingKeys;
  readonly by: number;
  readonly reasons: readonly Reason[];
  /** In written order, those by `=` and `%` too. */
  readonly grips: readonly HandGrip[];
}

/** The sets of keys of both hands that can't be held, each once: with more keys than a hand holds, or with fewer. */
export function unheldGrips(judged: PlayedSection, size: "many" | "few"): readonly UnheldGrip[] {
  const found: UnheldGrip[] = [];
  for (const hand of ["right", "left"] as const) {
    if (!mayFail(judged, hand, size)) continue;
    const { section, played } = judged;
    const reach = reachOf(judged, hand);
    const sets = new Map<string, { readonly grips: HandGrip[] } | "held">();
    for (const grip of handGrips(section, hand)) {
      for (const keys of heldAtOnce(grip)) {
        if (keys.length < 2 || keys.length > mostKeys !== (size === "many")) continue;
        const name = keys.join(" ");
        const known = sets.get(name);
        if (known !== undefined) {
          if (known !== "held" && known.grips.at(-1) !== grip) known.grips.push(grip);
          continue;
        }
        const failing = failingKeys(played, (by) => !movedGrip(keys, by, hand, reach).holds);
        if (failing === undefined) {
          sets.set(name, "held");
          continue;
        }
        const by = failing.printed
          ? 0
          : (played.find((it) => !movedGrip(keys, it.halfSteps, hand, reach).holds)?.halfSteps ?? 0);
        const it = movedGrip(keys, by, hand, reach);
        const set = {
          hand,
          notes: grip.notes.filter(({ pitch }) => keys.includes(pitch.midi)),
          keys,
          failing,
          by,
          reasons: it.holds ? [] : it.reasons,
          grips: [grip],
        };
        sets.set(name, set);
        found.push(set);
      }
    }
  }
  return found;
}

/** At how many places they are told: those of one text, under several chords by = or %, are told as one. */
export const placesTold = (unheld: readonly UnheldGrip[]): number =>
  new Set(unheld.map(({ grips }) => grips[0]?.slot.span.start)).size;

export const reachOf = ({ reach }: PlayedSection, hand: Hand): number => reach[hand] ?? usualReach;

/** Whether a hand holds keys in every key in which the form plays the section. */
export const isHeld = (keys: readonly number[], hand: Hand, judged: PlayedSection): boolean =>
  keys.length < 2 ||
  judged.played.every(({ halfSteps }) => movedGrip(keys, halfSteps, hand, reachOf(judged, hand)).holds);

/** The later places of a set of keys that are written out. */
export function laterSlots({ grips: [first, ...others] }: UnheldGrip): readonly SlotEvent[] {
  const start = first?.slot.span.start;
  return others.flatMap(({ slot }) =>
    slot.repeatedBy === undefined && slot.span.start !== start ? [slot] : [],
  );
}

/** Whether any slot may fail, by numbers alone: in most sections none does, and nothing is made for it. */
function mayFail({ section, played, reach }: PlayedSection, hand: Hand, size: "many" | "few"): boolean {
  for (const row of hand === "right" ? rightRows : leftRows) {
    const { slots, mostTones } = section.rows[row];
    if (mostTones < (size === "many" ? mostKeys + 1 : 2)) continue;
    for (const slot of slots) {
      const { placed } = slot;
      if (placed?.lowest === undefined || placed.tones.length < 2 || slot.hand !== hand) continue;
      if (size === "many") {
        if (placed.tones.length > mostKeys) return true;
        continue;
      }
      const { shape } = placed;
      if (shape === undefined) return true;
      if (shape === 0) continue;
      const places = placesHolding(shape, hand, reach[hand] ?? usualReach);
      for (const { halfSteps } of played)
        if (((places >> inOctave(placed.lowest.midi + halfSteps)) & 1) === 0) return true;
    }
  }
  return false;
}

const rightRows = ["right", "lead"] as const;
const leftRows = ["left", "bass"] as const;
