import type { SectionCheck } from "./check.js";
import { marksOf } from "./marks.js";

/** Something held or pushed over the sign of a repeat that would be other tones each time. */
export const repeatDiffers: SectionCheck<"repeat-differs"> = {
  code: "repeat-differs",
  run({ section }, report) {
    for (const { span, sign, first, again, row } of marksOf(section, "repeat-differs")) {
      report(span, { sign, first, again }, { row });
    }
  },
};
