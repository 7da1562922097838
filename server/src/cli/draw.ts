import type { Problem } from "../problems/problem.js";
import { columnsOf } from "../text/columns.js";
import { positionAt } from "../text/lines.js";
import type { Span } from "../text/span.js";
import { visible } from "../text/visible.js";
import type { Paint } from "./paint.js";

const indent = "    ";
/** Columns of a source line that are shown at most. */
const window = 100;
/** UTF-16 units looked at before and after the start of a range; each takes at most two columns. */
const before = 40;
const cut = "…";

/** Where the problems of a file are drawn. */
export interface Page {
  readonly path: string;
  readonly text: string;
  readonly starts: readonly number[];
}

/** A problem with its source line, a mark under its range, the places it speaks of and its fixes. */
export function drawProblem(page: Page, problem: Problem, paint: Paint): string {
  const { line, column } = positionAt(page.starts, problem.span.start);
  const word = {
    error: paint.red,
    warning: paint.yellow,
    info: paint.blue,
    hint: paint.green,
    off: paint.dim,
  };
  const head = `${page.path}:${line + 1}:${column + 1}: ${word[problem.severity](problem.severity)} ${paint.bold(
    problem.code,
  )}: ${visible(problem.message)}`;
  const [source, mark] = drawLine(page, problem.span);
  return [
    head,
    "",
    indent + source,
    indent + word[problem.severity](mark),
    ...problem.related.map(({ span, message }) => {
      const place = positionAt(page.starts, span.start);
      return `${indent}${place.line + 1}:${place.column + 1} ${visible(message)}`;
    }),
    ...problem.fixes.map(({ title }) => `${indent}${paint.green("fix:")} ${visible(title)}`),
  ]
    .map((it) => it.trimEnd())
    .join("\n");
}

/** The line that a span starts on, or the window of it around the span, and the marks to put under it. */
export function drawLine({ text, starts }: Page, span: Span): [source: string, mark: string] {
  const { line } = positionAt(starts, span.start);
  const start = starts[line] as number;
  const next = starts[line + 1] ?? text.length;
  const end = endOfLine(text, start, next);
  const from = onBoundary(text, end - start <= window ? start : Math.max(start, span.start - before));
  const to = onBoundary(text, Math.min(end, from + window));
  const markFrom = Math.min(span.start, to);
  const markTo = Math.max(markFrom, Math.min(span.end, to));
  const lead = from > start ? cut : "";
  const source = `${lead}${visible(text.slice(from, to))}${to < end ? cut : ""}`;
  const left = columnsOf(lead + visible(text.slice(from, markFrom)));
  const width = Math.max(1, columnsOf(visible(text.slice(markFrom, markTo))));
  return [source.trimEnd(), " ".repeat(left) + "^".repeat(width)];
}

function endOfLine(text: string, start: number, next: number): number {
  let end = next;
  while (end > start && (text[end - 1] === "\n" || text[end - 1] === "\r")) end--;
  return end;
}

/** The same place, moved off the middle of a surrogate pair. */
function onBoundary(text: string, at: number): number {
  const unit = text.charCodeAt(at);
  return unit >= 0xdc00 && unit <= 0xdfff && at > 0 ? at - 1 : at;
}
