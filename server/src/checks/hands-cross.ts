import { prettyPitch } from "../theory/pitch.js";
import type { SectionCheck } from "./check.js";
import { plansForCrossing, planTrial } from "./hand-fixes.js";
import { handsThatCross, handsThatInterlock } from "./hands-that-meet.js";
import { placesOf } from "./meeting-places.js";

/** The left hand above the right hand's lowest key. */
export const handsCross: SectionCheck<"hands-cross"> = {
  code: "hands-cross",
  run(judged, report) {
    const found = handsThatCross(judged.section);
    if (found.length === 0) return;
    const tried = planTrial(judged, "hands-cross");
    const told = new Set<number>();
    const interlocking = new Set(
      handsThatInterlock(judged.section).map((it) => it.moments[0]?.[it.hand].slot.span.start),
    );
    for (const it of found) {
      const { hand, moments } = it;
      const places = placesOf(it, () => true);
      const [left, right] = [moments[0]?.left.notes.at(-1), moments[0]?.right.notes[0]];
      // The same text under another chord, by = or %.
      if (
        places === undefined ||
        left === undefined ||
        right === undefined ||
        told.has(places.slot.span.start)
      )
        continue;
      const { slot, span, related } = places;
      told.add(slot.span.start);
      const interlocked = interlocking.has(slot.span.start);
      const { ways, fixes } = tried(slot, plansForCrossing(moments, judged));
      const facts = {
        hand,
        left: prettyPitch(left.pitch),
        right: prettyPitch(right.pitch),
        interlocked,
        ways,
      };
      report(span, facts, {
        row: slot.row,
        related,
        fixes,
        ...(interlocked ? { severity: "error" as const } : {}),
      });
    }
  },
};
