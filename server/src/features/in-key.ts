import { type Document, withText } from "../document/document.js";
import { type KeyTarget, transposeChart } from "../edits/transpose.js";
import { applyEdits } from "../text/edits.js";

/** The chart as if it had been moved to a key. */
export function inKey(document: Document, target: KeyTarget): Document | { readonly refused: string } {
  const moved = transposeChart(document, target);
  return "refused" in moved ? moved : withText(document, applyEdits(document.text, moved.edits));
}
