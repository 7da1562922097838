import type { Note } from "../chart/model.js";
import type { Reason } from "../keyboard/grip.js";
import { movedGrip } from "../keyboard/grip.js";
import type { GripReason } from "../problems/hand-words.js";
import { intervalName, intervalOfWhiteKeys } from "../theory/interval-name.js";
import { prettyPitch } from "../theory/pitch.js";
import type { JudgedSection, SectionCheck } from "./check.js";
import { plansForGrip, planTrial } from "./hand-fixes.js";
import { reachOf, type UnheldGrip, unheldGrips } from "./unheld-grips.js";
import { againAt, withoutOne } from "./unheld-words.js";

/** Keys that one hand can't hold down together, in one of the keys in which the form plays them. */
export const handSpan: SectionCheck<"hand-span"> = {
  code: "hand-span",
  run(judged, report) {
    const unheld = unheldGrips(judged, "few");
    if (unheld.length === 0) return;
    const tried = planTrial(judged, "hand-span");
    const told = new Set<number>();
    for (const it of unheld) {
      const slot = it.grips[0]?.slot;
      const why = reasonOf(it);
      // The same text under another chord, by = or %.
      if (slot === undefined || why === undefined || told.has(slot.span.start)) continue;
      told.add(slot.span.start);
      const { hand } = it;
      const { ways, fixes } = tried(slot, plansForGrip(it, unheld, judged));
      const reach = reachOf(judged, hand);
      const holdsAt = reachThatHolds(it, reach, judged);
      const facts = {
        hand,
        ...why,
        tones: it.notes.map(({ pitch }) => prettyPitch(pitch)),
        playedIn: it.failing.names,
        reach,
        reachName: intervalOfWhiteKeys(reach),
        reachBy: judged.reachBy[hand],
        ...(holdsAt === undefined ? {} : { holdsAt: { reach: holdsAt, name: intervalOfWhiteKeys(holdsAt) } }),
        ways: ways.length > 0 ? ways : withoutOne(it, judged),
      };
      report(slot.span, facts, { row: slot.row, related: againAt(it), fixes });
    }
  },
};

/** The reason that lies furthest out, with names and millimetres. */
function reasonOf({ hand, notes, reasons }: UnheldGrip): GripReason | undefined {
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

/** No hand is taken to reach further: a twelfth. */
const widestReach = 12;

/** The least reach that holds a grip in every key in which the form plays it. */
function reachThatHolds(
  { keys, hand }: UnheldGrip,
  from: number,
  { played }: JudgedSection,
): number | undefined {
  for (let reach = from + 1; reach <= widestReach; reach++)
    if (played.every(({ halfSteps }) => movedGrip(keys, halfSteps, hand, reach).holds)) return reach;
  return undefined;
}
