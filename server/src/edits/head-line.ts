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
    if (span !== undefined) return { span: shift(span, start), text: value };
    if (headWords.has(statement.kind)) last = { line, end: start + line.text.length };
  }
  const [, before = "", gap = ""] = /^(\s*\S+)(\s+)/.exec(last?.line.text ?? "") ?? [];
  const text = `${word.padEnd(before.length + gap.length - 1)} ${value}`;
  const lineEnd = /\r?\n$/.exec(last?.line.text ?? lines[0]?.text ?? "")?.[0];
  const at = last?.end ?? 0;
  const isOpen = last !== undefined && lineEnd === undefined;
  return { span: { start: at, end: at }, text: isOpen ? `\n${text}` : `${text}${lineEnd ?? "\n"}` };
}

const headWords: ReadonlySet<string> = new Set(["text", "key", "time", "tempo", "feel"]);
