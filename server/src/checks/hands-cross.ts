import type { Note } from "../chart/model.js";
import type { Moment } from "../chart/two-hands.js";
import { prettyPitch } from "../theory/pitch.js";
import type { SectionCheck } from "./check.js";
import { plansForCrossing, planTrial } from "./hand-fixes.js";
import { handsThatCross } from "./hands-that-meet.js";
import { placesOf } from "./meeting-places.js";

/** The left hand above the right hand's lowest key. */
export const handsCross: SectionCheck<"hands-cross"> = {
  code: "hands-cross",
  run(judged, report) {
    const found = handsThatCross(judged.section);
    if (found.length === 0) return;
    const tried = planTrial(judged, "hands-cross");
    const told = new Set<number>();
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
      const interlocked = moments.some(areInterlocked);
      const { ways, fixes } = tried(plansForCrossing(moments, judged));
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

/** Whether each hand has keys on both sides of a key of the other. A roll passes by. */
const areInterlocked = ({ left, right }: Moment): boolean =>
  !left.slot.rolled &&
  !right.slot.rolled &&
  isBetween(left.notes, right.notes) &&
  isBetween(right.notes, left.notes);

/** Whether one of some notes lies between two of others; both stand from the lowest up. */
function isBetween(notes: readonly Note[], others: readonly Note[]): boolean {
  const [lowest, highest] = [others[0], others.at(-1)];
  if (lowest === undefined || highest === undefined) return false;
  return notes.some(({ pitch: { midi } }) => lowest.pitch.midi < midi && midi < highest.pitch.midi);
}
