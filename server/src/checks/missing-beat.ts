import { beatsInBar } from "../chart/bar-time.js";
import type { Meter } from "../chart/model.js";
import type { Fix } from "../problems/problem.js";
import type { RowLine } from "../syntax/tree.js";
import { sliceOf } from "../text/span.js";
import type { SectionCheck } from "./check.js";
import { keepingChords } from "./keeping-chords.js";
import { hasUnread, holdSign, type RowBar, rowBars, spanOfSlots } from "./row-bars.js";

/** Three slots in a bar of four beats. */
export const missingBeat: SectionCheck<"missing-beat"> = {
  code: "missing-beat",
  run(judged, report) {
    const { section } = judged;
    const keep = keepingChords(judged);
    for (const bar of rowBars(section, mayLackOne)) {
      const { row, slots, meter, lineStart } = bar;
      if (slots.length !== 3 || bar.pickup || hasUnread(slots)) continue;
      const facts = { meter: `${meter.beats}/${meter.unit}`, hold: holdSign(row) };
      report(spanOfSlots(slots, lineStart), facts, {
        row,
        fixes: keep(bar, holdOne(bar, section.source.text)),
      });
    }
  },
};

const mayLackOne = ({ bars }: RowLine, meter: Meter): boolean =>
  bars.some(({ slots }) => slots.length === 3) && beatsInBar(meter) === 4;

/** One fix for each slot that can be held longer. Those that come to the same text are one. */
function holdOne({ row, slots, lineStart }: RowBar, text: string): readonly Fix[] {
  const sign = holdSign(row);
  const written = slots.map((slot) => sliceOf(text, spanOfSlots([slot], lineStart)));
  const fixes = new Map<string, Fix>();
  slots.forEach((slot, i) => {
    const title = `Write ${written.toSpliced(i + 1, 0, sign).join(" ")}`;
    const at = lineStart + slot.span.end;
    const edits = [{ span: { start: at, end: at }, text: ` ${sign}` }];
    if (!fixes.has(title)) fixes.set(title, { title, edits, silent: false });
  });
  return [...fixes.values()];
}
