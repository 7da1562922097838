import type { Reach } from "../chart/model.js";
import type { Outline } from "../chart/outline.js";
import type { Line } from "../syntax/tree.js";
import type { Edit } from "../text/edits.js";
import { shift } from "../text/span.js";

/**
 * The edit that makes a chart's head say how far the hands reach, for each hand that `reach` says: in its first `reach`
 * line, else in a new line below the head's last, its value in the same column.
 */
export function reachLineEdit({ header, headerStarts, lines }: Outline, reach: Reach): Edit {
  const value = wordsOf(reach);
  let last: { readonly line: Line; readonly end: number } | undefined;
  for (const [i, line] of header.entries()) {
    const { statement } = line;
    const start = headerStarts[i] as number;
    if (statement.kind === "reach" && (statement.left ?? statement.right) !== undefined)
      return { span: shift(statement.span, start), text: value };
    if (headWords.has(statement.kind)) last = { line, end: start + line.text.length };
  }
  const [, word = "", gap = ""] = /^(\s*\S+)(\s+)/.exec(last?.line.text ?? "") ?? [];
  const text = `${"reach".padEnd(word.length + gap.length - 1)} ${value}`;
  const lineEnd = /\r?\n$/.exec(last?.line.text ?? lines[0]?.text ?? "")?.[0];
  const at = last?.end ?? 0;
  const isOpen = last !== undefined && lineEnd === undefined;
  return { span: { start: at, end: at }, text: isOpen ? `\n${text}` : `${text}${lineEnd ?? "\n"}` };
}

const headWords: ReadonlySet<string> = new Set(["text", "key", "time", "tempo", "feel"]);

function wordsOf({ left, right }: Reach): string {
  if (left === right) return `${left ?? ""}`;
  const words = [left === undefined ? "" : `left ${left}`, right === undefined ? "" : `right ${right}`];
  return words.filter((word) => word !== "").join(" ");
}
