import { barLength } from "../chart/bar-time.js";
import { pickupLength } from "../chart/layout.js";
import type { Meter } from "../chart/model.js";
import type { RowLine } from "../syntax/tree.js";
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
    const isOfConcern = (line: RowLine, meter: Meter): boolean => tooFine.size > 0 || !isEven(line, meter);
    for (const bar of rowBars(section, isOfConcern)) {
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

/** Equal lines are one object, nearly always in one meter. */
const known = new WeakMap<RowLine, { readonly meter: Meter; readonly isEven: boolean }>();

/** Whether all slots of a line are plain notes or triplets. */
function isEven(line: RowLine, meter: Meter): boolean {
  const before = known.get(line);
  if (before?.meter.beats === meter.beats && before.meter.unit === meter.unit) return before.isEven;
  const { pickup, bars } = line;
  const isEven =
    (pickup.length === 0 || unevenSlotsIn(pickup, pickupLength(line, meter)) === undefined) &&
    bars.every(({ slots }) => slots.length === 0 || unevenSlotsIn(slots, barLength(meter)) === undefined);
  known.set(line, { meter, isEven });
  return isEven;
}
