import { mostKeys } from "../keyboard/fingerings.js";
import { prettyPitch } from "../theory/pitch.js";
import type { SectionCheck } from "./check.js";
import { plansForGrip, planTrial } from "./hand-fixes.js";
import { unheldGrips } from "./unheld-grips.js";
import { againAt, withoutOne } from "./unheld-words.js";

/** More keys at once than a hand holds. */
export const tooManyNotes: SectionCheck<"too-many-notes"> = {
  code: "too-many-notes",
  run(judged, report) {
    const unheld = unheldGrips(judged, "many");
    if (unheld.length === 0) return;
    const tried = planTrial(judged, "too-many-notes");
    const told = new Set<number>();
    for (const it of unheld) {
      const slot = it.grips[0]?.slot;
      // The same text under another chord, by = or %.
      if (slot === undefined || told.has(slot.span.start)) continue;
      told.add(slot.span.start);
      const { ways, fixes } = tried(slot, plansForGrip(it, unheld, judged));
      const facts = {
        hand: it.hand,
        reason: "too-many-keys" as const,
        keys: it.notes.map(({ pitch }) => prettyPitch(pitch)),
        count: it.keys.length,
        most: mostKeys,
        ways: ways.length > 0 ? ways : withoutOne(it, judged),
      };
      report(slot.span, facts, { row: slot.row, related: againAt(it), fixes });
    }
  },
};
