import type { Fix } from "../problems/problem.js";
import type { NameText } from "../syntax/tree.js";
import { shift } from "../text/span.js";
import { isPractical, type Key, practical, prettyKey, signature } from "../theory/key.js";
import { nameOf } from "../theory/note-name.js";
import type { ChartCheck, Report, SectionCheck } from "./check.js";
import { sectionWords } from "./section-words.js";

/** A key that players write under another name, in a section's own `key` lines. */
export const keyName: SectionCheck<"key-name"> = {
  code: "key-name",
  run({ section: { source } }, report) {
    source.lines.forEach(({ statement }, i) => {
      if (statement.kind !== "key" || statement.tonic === undefined) return;
      judge(
        statement.tonic,
        { tonic: statement.tonic.fifths, mode: statement.mode },
        source.starts[i] as number,
        report,
      );
    });
  },
};

/** The same in the header, and behind the names of `form` and `play`. */
export const keyNameAcross: ChartCheck<"key-name"> = {
  code: "key-name",
  run(chart, report) {
    let start = 0;
    for (const { statement, text } of chart.headerLines) {
      if (statement.kind === "key" && statement.tonic !== undefined) {
        judge(statement.tonic, { tonic: statement.tonic.fifths, mode: statement.mode }, start, report);
      }
      start += text.length;
    }
    for (const { item, lineStart, target } of sectionWords(chart)) {
      if (item.move?.kind !== "in") continue;
      const { mode } = (target?.section.start ?? chart.header.home).key;
      judge(
        item.move.tonic,
        { tonic: item.move.tonic.fifths, mode: item.move.mode ?? mode },
        lineStart,
        report,
      );
    }
  },
};

function judge(tonic: NameText, key: Key, lineStart: number, report: Report<"key-name">): void {
  if (isPractical(key)) return;
  const twin = practical(key);
  const span = shift(tonic.span, lineStart);
  const fix: Fix = {
    title: `Write ${nameOf(twin.tonic)}`,
    edits: [{ span, text: nameOf(twin.tonic) }],
    silent: true,
  };
  const facts = { key: prettyKey(key), signs: signs(key), twin: prettyKey(twin), twinSigns: signs(twin) };
  report(span, facts, { fixes: [fix] });
}

function signs(key: Key): string {
  const sharps = signature(key);
  const count = Math.abs(sharps);
  if (count === 0) return "no sharps or flats";
  return `${count} ${sharps > 0 ? "sharp" : "flat"}${count === 1 ? "" : "s"}`;
}
