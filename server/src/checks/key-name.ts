import type { Chart } from "../chart/model.js";
import type { ChartText } from "../edits/chart-text.js";
import { transposeChart } from "../edits/transpose.js";
import type { Fix } from "../problems/problem.js";
import type { NameText, OriginalText } from "../syntax/tree.js";
import type { Edit } from "../text/edits.js";
import { type Span, shift } from "../text/span.js";
import { isPractical, type Key, type ModeName, practical, prettyKey, signature } from "../theory/key.js";
import { nameOf, pitchClass } from "../theory/note-name.js";
import type { ChartCheck, Report, SectionCheck } from "./check.js";
import { sectionWords } from "./section-words.js";

/** A key that players write under another name, in a section's own `key` lines. */
export const keyName: SectionCheck<"key-name"> = {
  code: "key-name",
  run({ section: { source } }, report) {
    source.lines.forEach(({ statement }, i) => {
      if (statement.kind !== "key" || statement.tonic === undefined) return;
      const { tonic, mode } = statement;
      judge({ ...statement, tonic, mode }, source.starts[i] as number, report);
    });
  },
};

/** The same in the header, and behind the names of `form` and `play`. */
export const keyNameAcross: ChartCheck<"key-name"> = {
  code: "key-name",
  run(chart, report) {
    let start = 0;
    let isKeyRead = false;
    const respelled = (twin: Key): Fix | undefined => respellChart(chart, twin);
    for (const { statement, text } of chart.outline.header) {
      if (statement.kind === "key" && statement.tonic !== undefined) {
        const { tonic, mode, original } = statement;
        const isFirst = !isKeyRead;
        isKeyRead = true;
        const whole = isFirst && original !== undefined ? respelled : undefined;
        judge({ ...statement, tonic, mode }, start, report, whole);
      }
      start += text.length;
    }
    for (const { item, lineStart, target } of sectionWords(chart)) {
      if (item.move?.kind !== "in") continue;
      const { mode } = (target?.section.start ?? chart.header.home).key;
      judge({ ...item.move, mode: item.move.mode ?? mode }, lineStart, report);
    }
  },
};

/** A key as it is written. */
interface WrittenKey {
  readonly tonic: NameText;
  readonly mode: ModeName;
  readonly keySpan: Span;
  readonly original: OriginalText | undefined;
}

/** `whole` mends a key that more hangs on than its line. */
function judge(
  written: WrittenKey,
  lineStart: number,
  report: Report<"key-name">,
  whole?: (twin: Key) => Fix | undefined,
): void {
  const key = { tonic: written.tonic.fifths, mode: written.mode };
  if (isPractical(key)) return;
  const twin = practical(key);
  const fix = whole === undefined ? rename(written, twin, lineStart) : whole(twin);
  const facts = { key: prettyKey(key), signs: signs(key), twin: prettyKey(twin), twinSigns: signs(twin) };
  report(shift(written.tonic.span, lineStart), facts, { fixes: fix === undefined ? [] : [fix] });
}

/** Writes the tonic's other name. The words `(original …)` stay where they are still another name of the same key. */
function rename({ tonic, keySpan, original }: WrittenKey, twin: Key, lineStart: number): Fix {
  const edits: Edit[] = [{ span: shift(tonic.span, lineStart), text: nameOf(twin.tonic) }];
  if (original !== undefined) {
    const { fifths } = original.tonic;
    const isOtherName = fifths !== twin.tonic && pitchClass(fifths) === pitchClass(twin.tonic);
    // One space belongs to the words.
    const start = Math.max(keySpan.end, original.span.start - 1);
    if (!isOtherName) edits.push({ span: shift({ start, end: original.span.end }, lineStart), text: "" });
  }
  return { title: `Write ${nameOf(twin.tonic)}`, edits, silent: true };
}

/**
 * A moved chart finds its way home by counting from its key's name, so its letters and later keys go along with that
 * name; the words `(original …)` stay, or go where this is the original. `undefined` where the chart can't be moved.
 */
function respellChart(chart: Chart, twin: Key): Fix | undefined {
  const text = textOf(chart);
  const result = transposeChart(text, { tonic: twin.tonic, mode: undefined });
  if ("refused" in result) return undefined;
  const keyLine = text.outline.header.findIndex(({ statement }) => statement.kind === "key");
  const lineEnd = text.tree.starts[keyLine + 1] ?? text.tree.text.length;
  const isMore = result.edits.some(({ span }) => span.start >= lineEnd);
  const title = `Write ${nameOf(twin.tonic)}${isMore ? ", and respell the letters" : ""}`;
  return { title, edits: result.edits, silent: true };
}

function textOf(chart: Chart): ChartText {
  const { lines } = chart.outline;
  const starts: number[] = [];
  let length = 0;
  for (const line of lines) {
    starts.push(length);
    length += line.text.length;
  }
  const tree = { text: lines.map(({ text }) => text).join(""), lines, starts };
  return { tree, outline: chart.outline, chart };
}

function signs(key: Key): string {
  const sharps = signature(key);
  const count = Math.abs(sharps);
  if (count === 0) return "no sharps or flats";
  return `${count} ${sharps > 0 ? "sharp" : "flat"}${count === 1 ? "" : "s"}`;
}
