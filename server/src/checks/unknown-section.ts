import type { Fix } from "../problems/problem.js";
import type { FormItem } from "../syntax/tree.js";
import { shift } from "../text/span.js";
import type { ChartCheck } from "./check.js";
import { namesMeant, sectionWords } from "./section-words.js";

/** A name in `form` or `play` that no section has. */
export const unknownSection: ChartCheck<"unknown-section"> = {
  code: "unknown-section",
  run(chart, report) {
    // It may stand in the chart that can't be had.
    if (chart.uses.some(({ found }) => found !== "chart")) return;
    for (const { item, lineStart, target } of sectionWords(chart)) {
      if (target !== undefined || item.name === "") continue;
      const meant = namesMeant(chart, item.name);
      const fixes = meant.map((name) => rename(item, lineStart, name));
      report(shift(item.nameSpan, lineStart), { name: item.name, nearest: meant }, { fixes });
    }
  },
};

function rename({ nameSpan, span }: FormItem, lineStart: number, name: string): Fix {
  const isQuoted = span.start < nameSpan.start;
  const text = isQuoted || canStandBare(name) ? name : `"${name}"`;
  return { title: `Write ${text}`, edits: [{ span: shift(nameSpan, lineStart), text }], silent: false };
}

/** One word, and none that says how a section is played. */
const canStandBare = (name: string): boolean =>
  !/[ \t]/.test(name) && !/^(?:in|up|down|x[0-9]+|;.*)$/.test(name);
