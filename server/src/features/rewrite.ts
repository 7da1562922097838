import type { PlacedSection } from "../chart/model.js";
import type { Document } from "../document/document.js";
import { type RewrittenRow, rewriteRows } from "../edits/rewrite.js";
import { type Change, changeOf } from "./change.js";

export type Notation = "numbers" | "letters";

/** Chords and hands, what a chart is written in either way. */
export const allRows: readonly RewrittenRow[] = ["chords", "lead", "right", "left", "bass"];

/** Writes rows as numbers or as letters: those of the whole chart, or of one of its sections. */
export function rewrite(
  document: Document,
  to: Notation,
  rows: readonly RewrittenRow[] = allRows,
  placed?: PlacedSection,
): Change {
  if (placed === undefined) return changeOf(document, rewriteRows(document, to, rows));
  const { tree, outline, chart } = document;
  const result = rewriteRows({ tree, outline, chart: { ...chart, sections: [placed] } }, to, rows);
  if ("refused" in result) return changeOf(document, result);
  const end = placed.offset + placed.section.source.text.length;
  const notes = result.notes.filter(({ span }) => span.start >= placed.offset && span.start < end);
  return changeOf(document, { edits: result.edits, notes });
}
