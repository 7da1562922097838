import type { Chart } from "../chart/model.js";
import type { Fix } from "../problems/problem.js";
import type { FormItem } from "../syntax/tree.js";
import { nearest } from "../text/nearest.js";
import { shift } from "../text/span.js";
import type { ChartCheck } from "./check.js";
import { sectionWords } from "./section-words.js";

/** A name in `form` or `play` that no section has. */
export const unknownSection: ChartCheck<"unknown-section"> = {
  code: "unknown-section",
  run(chart, report) {
    for (const { item, lineStart, target } of sectionWords(chart)) {
      if (target !== undefined) continue;
      const meant = nearest(item.name, namesOf(chart), 3, 3);
      const fixes = meant.map((name) => rename(item, lineStart, name));
      report(shift(item.nameSpan, lineStart), { name: item.name, nearest: meant }, { fixes });
    }
  },
};

const namesOf = ({ sections, uses }: Chart): readonly string[] =>
  [
    ...new Set([...sections.map(({ section }) => section.name), ...uses.flatMap(({ names }) => names)]),
  ].filter((name) => name !== "");

function rename({ nameSpan, span }: FormItem, lineStart: number, name: string): Fix {
  const isQuoted = span.start < nameSpan.start;
  const text = !isQuoted && /[ \t]/.test(name) ? `"${name}"` : name;
  return { title: `Write ${text}`, edits: [{ span: shift(nameSpan, lineStart), text }], silent: false };
}
