import { prettyPitch } from "../theory/pitch.js";
import type { SectionCheck } from "./check.js";
import { plansForShared, planTrial } from "./hand-fixes.js";
import { handsThatCollide } from "./hands-that-meet.js";
import { placesOf } from "./meeting-places.js";

/** A key that both hands need at the same time. */
export const handsCollide: SectionCheck<"hands-collide"> = {
  code: "hands-collide",
  run(judged, report) {
    const found = handsThatCollide(judged.section);
    if (found.length === 0) return;
    const tried = planTrial(judged, "hands-collide");
    const told = new Set<number>();
    for (const it of found) {
      const { hand, shared, moments } = it;
      const places = placesOf(it, ({ pitch }) => shared.includes(pitch.midi));
      // The same text under another chord, by = or %.
      if (places === undefined || told.has(places.slot.span.start)) continue;
      const { slot, span, related } = places;
      told.add(slot.span.start);
      const [first] = moments;
      const { ways, fixes } = tried(slot, plansForShared(moments, shared, judged));
      const facts = {
        hand,
        keys:
          first?.[hand].notes.flatMap(({ pitch }) =>
            shared.includes(pitch.midi) ? [prettyPitch(pitch)] : [],
          ) ?? [],
        held: first?.left.strikes !== first?.right.strikes,
        ways,
      };
      report(span, facts, { row: slot.row, related, fixes });
    }
  },
};
