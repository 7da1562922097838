import type { Chart, MisplacedMark, SectionSource } from "../chart/model.js";
import type { OutlinedSection } from "../chart/outline.js";
import type { Fix } from "../problems/problem.js";
import { strayAdvice } from "../syntax/move-slips.js";
import { bodyLength } from "../syntax/tokens-of.js";
import type { Line } from "../syntax/tree.js";
import type { Edit } from "../text/edits.js";
import { shift, sliceOf } from "../text/span.js";
import type { ChartCheck, Report, SectionCheck } from "./check.js";
import { firstWordSpan } from "./first-word.js";
import { marksOf } from "./marks.js";
import { sectionWords } from "./section-words.js";

/** Signs and lines that can be read but mean nothing where they stand in a section. */
export const syntax: SectionCheck<"syntax"> = {
  code: "syntax",
  run({ section }, report) {
    for (const mark of marksOf(section, "misplaced")) {
      const fixes = mark.where === "after-rest" ? [writeRest(mark)] : [];
      report(mark.span, { read: mark.sign, advice: signAdvice(mark) }, { row: mark.row, fixes });
    }
    const { lines, starts } = section.source;
    for (let i = 0; i < lines.length; i++) {
      const line = lines[i] as Line;
      if (!belongsToHead(line)) continue;
      const inLine = firstWordSpan(line);
      const span = shift(inLine, starts[i] as number);
      const word = sliceOf(line.text, inLine);
      const advice = `“${word}” belongs before the first section. Move the line there, or put a ; before it to keep it as a remark.`;
      report(span, { read: word, advice }, { fixes: [makeRemark(span.start)] });
    }
  },
};

/** What a form says wrongly: a move without its key or step, and a playing order that stands among the sections. */
export const syntaxOfForm: ChartCheck<"syntax"> = {
  code: "syntax",
  run(chart, report) {
    reportStrayMoves(chart, report);
    const strays = strayForms(chart);
    if (strays.length === 0) return;
    const fix = moveToHead(chart, strays);
    for (const { line, start } of strays) {
      const advice =
        "“form” stands before the first section or after the last one, where the playing order is looked for. Move the line there.";
      report(shift(firstWordSpan(line), start), { read: "form", advice }, { fixes: [fix] });
    }
  },
};

/** One of `in`, `up`, `down` that says no key and no step. With a name that nobody has it is told of there. */
function reportStrayMoves(chart: Chart, report: Report<"syntax">): void {
  const isMissing = chart.uses.some(({ found }) => found !== "chart");
  for (const { item, target, lineStart } of sectionWords(chart)) {
    if (item.stray === undefined || (target === undefined && !isMissing && item.name !== "")) continue;
    const { word: read } = item.stray;
    const span = shift(item.stray.span, lineStart);
    const steps = read === "in" ? [] : [`${read} half`, `${read} whole`];
    const fixes = steps.map(
      (text): Fix => ({ title: `Write ${text}`, edits: [{ span, text }], silent: false }),
    );
    report(span, { read, advice: strayAdvice(read) }, { fixes });
  }
}

function signAdvice({ sign, where }: MisplacedMark): string {
  if (sign === "%")
    return "“%” repeats the bar before it, and this row has none in its section. Write the bar out.";
  return where === "first"
    ? "“=” repeats the slot before it in its bar, and there is none. Write the tones."
    : "“=” strikes tones again, and before it stands a rest. Write r, or the tones.";
}

const writeRest = ({ span }: MisplacedMark): Fix => ({
  title: "Write r",
  edits: [{ span, text: "r" }],
  silent: false,
});

/** What the parser has reported already says enough. */
const belongsToHead = ({ statement: { kind }, problems }: Line): boolean =>
  (kind === "text" || kind === "reach" || kind === "use") && problems.length === 0;

const makeRemark = (at: number): Fix => ({
  title: "Make it a remark",
  edits: [{ span: { start: at, end: at }, text: "; " }],
  silent: false,
});

interface StrayLine {
  readonly line: Line;
  /** From the chart's start. */
  readonly start: number;
}

/** The `form` lines of a section that has another one, or more of its own, after them. */
function strayForms({ outline }: Chart): readonly StrayLine[] {
  const { sections, contents } = outline;
  return contents.holding.form.flatMap((i) => {
    const { source, offset } = sections[i] as OutlinedSection;
    const end = i === sections.length - 1 ? lastOwnLine(source) : Number.POSITIVE_INFINITY;
    const strays: StrayLine[] = [];
    source.lines.forEach((line, k) => {
      if (line.statement.kind === "form" && line.problems.length === 0 && k < end)
        strays.push({ line, start: offset + (source.starts[k] as number) });
    });
    return strays;
  });
}

/** The last line that only a section can hold. */
const lastOwnLine = ({ lines }: SectionSource): number =>
  lines.findLastIndex(({ statement: { kind } }) =>
    ["section", "row", "lands", "vamp", "play"].includes(kind),
  );

/** They keep their order, so the form stays what it was; the empty lines that they leave part the same systems. */
function moveToHead({ sections }: Chart, strays: readonly StrayLine[]): Fix {
  const at = sections[0]?.offset ?? 0;
  const lineEnd = lineEndOf(strays[0]?.line) || "\n";
  const moved = strays.map(({ line }) => line.text.trim() + lineEnd).join("");
  const left = strays.map(({ line, start }): Edit => {
    return { span: { start, end: start + bodyLength(line.text) }, text: "" };
  });
  return {
    title: "Move “form” before the first section",
    edits: [{ span: { start: at, end: at }, text: moved + lineEnd }, ...left],
    silent: false,
  };
}

const lineEndOf = (line: Line | undefined): string => line?.text.slice(bodyLength(line.text)) ?? "";
