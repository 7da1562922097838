import type { SectionCheck } from "./check.js";
import { marksOf } from "./marks.js";

/** Syllables in a bar beyond the notes of its lead. */
export const tooManyWords: SectionCheck<"too-many-words"> = {
  code: "too-many-words",
  run({ section }, report) {
    for (const { span, words, notes, row } of marksOf(section, "too-many-words")) {
      report(span, { words, notes }, { row });
    }
  },
};
