import { movedGrip } from "../keyboard/grip.js";
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
        ...(holdsAt === undefined ? {} : { holdsAt: { reach: holdsAt, name: intervalOfWhiteKeys(holdsAt) } }),
        ways: ways.length > 0 ? ways : withoutOne(it, judged),
      };
      report(slot.span, facts, { row: slot.row, related: againAt(it), fixes });
    }
  },
};

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
