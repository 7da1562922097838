import { expect } from "vitest";
import {
  type Document,
  type Files,
  openDocument,
  type Settings,
} from "../../server/src/document/document.js";
import { type Code, catalogue } from "../../server/src/problems/catalogue.js";
import type { Problem } from "../../server/src/problems/problem.js";
import { applyEdits } from "../../server/src/text/edits.js";
import { lineStarts, positionAt, splitLines } from "../../server/src/text/lines.js";
import type { Span } from "../../server/src/text/span.js";
import { chartText } from "./edit-chart.js";

/** Other charts that a `use` line finds, by their paths. */
export type OtherCharts = Readonly<Record<string, string>>;

/** A line under the chart's text: `^^^` under a problem, `~~~` under a place that belongs to the one above. */
interface Mark {
  readonly line: number;
  readonly column: number;
  readonly signs: string;
  readonly words: string;
}

/**
 * Judges a chart whose problems are marked in its text, and expects those and no other, of any code:
 *
 *     chords | 1 67 |
 *                ^^ “67” is read as 6:7. …
 *                ~~ a place that belongs to it
 *
 * A mark stands under the range (one `^` where it is empty), with the message behind it; `…` stands for any words.
 * A problem of another code than `code` has that code and a colon before its message. A chart without marks is sound.
 * Leaps are judged only where they are what is tested.
 */
export function check(code: Code, marked: string, others: OtherCharts = {}): void {
  const { lines, marks } = readMarks(chartText(marked));
  const text = lines.join("\n");
  const found = judged(code, text, others).problems.flatMap((it) => marksOf(it, code, text));
  const shown = found.map((it) => {
    const meant = marks.find(
      (mark) =>
        mark.line === it.line &&
        mark.column === it.column &&
        mark.signs === it.signs &&
        matches(it.words, mark.words),
    );
    return meant ?? it;
  });
  expect(picture(lines, inOrder(shown))).toBe(picture(lines, inOrder(marks)));
}

/**
 * Applies a fix (the first, unless `which` says another) of the first problem of this code. The text must then be
 * `after`, with that problem gone and no error more than before.
 */
export function fix(code: Code, before: string, after: string, which = 0, others: OtherCharts = {}): void {
  const text = readMarks(chartText(before)).lines.join("\n");
  const { problems } = judged(code, text, others);
  const mended = problems.find((it) => it.code === code)?.fixes[which];
  if (mended === undefined)
    throw new Error(`${code} offers no such fix:\n${JSON.stringify(problems, null, 2)}`);
  const result = applyEdits(text, mended.edits);
  expect(result).toBe(chartText(after));
  const left = judged(code, result, others).problems;
  const count = (of: readonly Problem[], is: (it: Problem) => boolean): number => of.filter(is).length;
  const isSame = (it: Problem): boolean => it.code === code;
  const isError = ({ severity }: Problem): boolean => severity === "error";
  expect(count(left, isSame), "problems of the code after its fix").toBeLessThan(count(problems, isSame));
  const errors = left.filter(isError).map(({ code, message }) => `${code}: ${message}`);
  expect(errors.length, errors.join("\n")).toBeLessThanOrEqual(count(problems, isError));
}

/** The titles of the fixes of the first problem of this code, in the order of the menu. */
export function fixTitles(code: Code, chart: string, others: OtherCharts = {}): readonly string[] {
  const text = readMarks(chartText(chart)).lines.join("\n");
  const found = judged(code, text, others).problems.find((it) => it.code === code);
  if (found === undefined) throw new Error(`${code} is not raised`);
  return found.fixes.map(({ title }) => title);
}

/** The chart as it is judged; a code that is off unless asked for is asked for. */
function judged(code: Code, text: string, others: OtherCharts): Document {
  const files: Files = {
    find: (_from, path) => {
      const found = others[path];
      return found === undefined ? { kind: "missing" } : { kind: "text", path, text: chartText(found) };
    },
  };
  const isOff = (catalogue[code].severity as string) === "off";
  const settings: Settings = {
    // Samples of other checks leap as they like: their melodies are not what they are about.
    severities: { ...(code === "jump" ? {} : { jump: "off" }), ...(isOff ? { [code]: "warning" } : {}) },
    reach: { left: undefined, right: undefined },
  };
  return openDocument("chart.plagal", text, files, settings);
}

function readMarks(text: string): { lines: string[]; marks: Mark[] } {
  const lines: string[] = [];
  const marks: Mark[] = [];
  for (const line of text.split("\n")) {
    const found = /^( *)(\^+|~+)(?: +(.*))?$/.exec(line);
    if (found === null) {
      lines.push(line);
      continue;
    }
    const [, before = "", signs = "", words = ""] = found;
    marks.push({ line: lines.length - 1, column: before.length, signs, words: words.trimEnd() });
  }
  return { lines, marks };
}

function marksOf(it: Problem, code: Code, text: string): Mark[] {
  const starts = lineStarts(splitLines(text));
  const mark = (sign: string, { start, end }: Span, words: string): Mark => {
    const { line, column } = positionAt(starts, start);
    const lineEnd = (starts[line + 1] ?? text.length + 1) - 1;
    return { line, column, signs: sign.repeat(Math.max(1, Math.min(end, lineEnd) - start)), words };
  };
  return [
    mark("^", it.span, it.code === code ? it.message : `${it.code}: ${it.message}`),
    ...it.related.map(({ span, message }) => mark("~", span, message)),
  ];
}

/** Whether a message is the one that is expected, in which `…` stands for any words. */
function matches(message: string, expected: string): boolean {
  const parts = expected.split("…").map((part) => part.replace(/[.*+?^${}()|[\]\\]/g, "\\$&"));
  return new RegExp(`^${parts.join(".*")}$`, "s").test(message);
}

const inOrder = (marks: readonly Mark[]): Mark[] =>
  [...marks].sort(
    (a, b) =>
      a.line - b.line || a.column - b.column || (a.signs < b.signs ? 1 : -1) || (a.words < b.words ? -1 : 1),
  );

const picture = (lines: readonly string[], marks: readonly Mark[]): string =>
  lines
    .flatMap((line, i) => [
      line,
      ...marks
        .filter((mark) => mark.line === i)
        .map(({ column, signs, words }) => `${" ".repeat(column)}${signs} ${words}`.trimEnd()),
    ])
    .join("\n");
