import { type Document, openDocument } from "../../server/src/document/document.js";
import type { EditResult } from "../../server/src/edits/result.js";
import { applyEdits } from "../../server/src/text/edits.js";

/** A chart written inside a test: the indentation of its first line is taken from all lines. */
export function chartText(text: string): string {
  const lines = text
    .replace(/^\n/, "")
    .replace(/\n[ ]*$/, "\n")
    .split("\n");
  const indent = /^[ ]*/.exec(lines[0] ?? "")?.[0].length ?? 0;
  return lines.map((line) => line.slice(Math.min(indent, /^[ ]*/.exec(line)?.[0].length ?? 0))).join("\n");
}

/** The text after an edit; of a refused one the reason, in parentheses. */
export function edited(text: string, edit: (document: Document) => EditResult): string {
  const document = openDocument("chart.plagal", text);
  const result = edit(document);
  return "refused" in result ? `(${result.refused})` : applyEdits(text, result.edits);
}
