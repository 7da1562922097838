import { sliceOf } from "../text/span.js";
import { prettyKey } from "../theory/key.js";
import { prettyName } from "../theory/note-name.js";
import type { SectionCheck } from "./check.js";
import { marksOf } from "./marks.js";

/** A sign for what the key's own scale has already. */
export const minorDegree: SectionCheck<"minor-degree"> = {
  code: "minor-degree",
  run({ section }, report) {
    for (const { span, degree, key, fifths, row } of marksOf(section, "minor-degree")) {
      const wrote = sliceOf(section.source.text, span);
      const write = `${degree}`;
      const fixes = [{ title: `Write ${write}`, edits: [{ span, text: write }], silent: true }];
      report(span, { wrote, write, key: prettyKey(key), tone: prettyName(fifths) }, { row, fixes });
    }
  },
};
