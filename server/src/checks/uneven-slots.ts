import type { SectionCheck } from "./check.js";
import { evenOut, unevenSlotsIn } from "./even-out.js";
import { keepingChords } from "./keeping-chords.js";
import { marksOf } from "./marks.js";
import { hasUnread, holdSign, rowBars, spanOfSlots } from "./row-bars.js";

/** A bar whose slots are no plain notes and no triplets, or too short to be counted. */
export const unevenSlots: SectionCheck<"uneven-slots"> = {
  code: "uneven-slots",
  run(judged, report) {
    const { section } = judged;
    const keep = keepingChords(judged);
    const tooFine = new Set(marksOf(section, "too-fine").map(({ span }) => span.start));
    for (const bar of rowBars(section)) {
      const { row, slots, length, meter, lineStart } = bar;
      const hold = holdSign(row);
      if (tooFine.has(bar.start)) {
        const facts = { slots: slots.length, share: "", hold, tooShort: true };
        report(spanOfSlots(slots, lineStart), facts, { row });
        continue;
      }
      const uneven = unevenSlotsIn(slots, length);
      if (uneven === undefined || hasUnread(slots)) continue;
      const share = uneven === slots ? `a bar of ${meter.beats}/${meter.unit}` : "this group";
      const facts = { slots: uneven.length, share, hold, tooShort: false };
      report(spanOfSlots(uneven, lineStart), facts, { row, fixes: keep(bar, evenOut(bar)) });
    }
  },
};
