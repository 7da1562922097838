import { widestSpan } from "../keyboard/finger-spans.js";
import { movedGrip } from "../keyboard/grip.js";
import type { GripReason } from "../problems/hand-words.js";
import { intervalOfWhiteKeys } from "../theory/interval-name.js";
import { prettyPitch } from "../theory/pitch.js";
import type { JudgedSection, SectionCheck } from "./check.js";
import { gripReason } from "./grip-reason.js";
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
      const why = gripReason(it);
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
        ...wideEnough(it, reach),
        ...(holdsAt === undefined ? {} : { holdsAt: { reach: holdsAt, name: intervalOfWhiteKeys(holdsAt) } }),
        ways: ways.length > 0 ? ways : withoutOne(it, judged),
      };
      report(slot.span, facts, { row: slot.row, related: againAt(it), fixes });
    }
  },
};

/** No hand is taken to reach further: a twelfth. */
const widestReach = 12;

/** The least reach that is as wide as a grip and still doesn't hold it, with the fingers that can't; empty where none. */
function wideEnough(
  it: UnheldGrip,
  from: number,
): { readonly wideEnough?: GripReason & { readonly reachName: string } } {
  const [reason] = it.reasons;
  if (reason?.kind !== "too-wide") return {};
  for (let reach = from + 1; reach <= widestReach; reach++) {
    if (widestSpan(reach) < reason.width) continue;
    const held = movedGrip(it.keys, it.by, it.hand, reach);
    const why = held.holds ? undefined : gripReason({ ...it, reasons: held.reasons });
    return why === undefined ? {} : { wideEnough: { ...why, reachName: intervalOfWhiteKeys(reach) } };
  }
  return {};
}

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
