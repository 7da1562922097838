import type { Document } from "../document/document.js";
import { readTarget } from "../edits/key-target.js";
import type { EditResult } from "../edits/result.js";
import { transposeChart } from "../edits/transpose.js";

type Moved = Extract<EditResult, { edits: unknown }>;

/** The edits that move a chart to a key as it was typed: `Ab`, `a♭`, `F# minor`, `Cm`. */
export function moveTo(document: Document, text: string): Moved | { readonly complaint: string } {
  const target = readTarget(text);
  const moved = "refused" in target ? target : transposeChart(document, target);
  return "refused" in moved ? { complaint: moved.refused } : moved;
}
