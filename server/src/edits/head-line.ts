import type { Outline } from "../chart/outline.js";
import type { Line, Statement } from "../syntax/tree.js";
import type { Edit } from "../text/edits.js";
import { type Span, shift } from "../text/span.js";

/**
 * The edit that makes a chart's head say something: `spanIn` gives where a line of the head says it already; else it is
 * a new line below the head's last, its value in the same column.
 */
export function headLineEdit(
  { header, headerStarts, lines }: Outline,
  word: string,
  value: string,
  spanIn: (statement: Statement) => Span | undefined,
): Edit {
  let last: { readonly line: Line; readonly end: number } | undefined;
  for (const [i, line] of header.entries()) {
    const { statement } = line;
    const start = headerStarts[i] as number;
    const span = spanIn(statement);
    // Where nothing stands behind the word, the place is right after it.
    if (span !== undefined)
      return { span: shift(span, start), text: span.start === span.end ? ` ${value}` : value };
    if (headWords.has(statement.kind)) last = { line, end: start + line.text.length };
  }
  const lineEnd = lineEndOf(lines.find(({ text }) => lineEndOf(text) !== undefined)?.text) ?? "\n";
  const [, before = "", gap = ""] = /^\uFEFF?(\s*\S+)([^\S\r\n]+)/.exec(last?.line.text ?? "") ?? [];
  const text = `${word.padEnd(before.length + gap.length - 1)} ${value}`;
  if (last !== undefined && lineEndOf(last.line.text) === undefined)
    return { span: { start: last.end, end: last.end }, text: lineEnd + text };
  const at = last?.end ?? (lines[0]?.text.startsWith("\uFEFF") ? 1 : 0);
  return { span: { start: at, end: at }, text: text + lineEnd };
}

const lineEndOf = (text = ""): string | undefined => /(?:\r\n|\n|\r)$/.exec(text)?.[0];

const headWords: ReadonlySet<string> = new Set(["text", "key", "time", "tempo", "feel"]);
