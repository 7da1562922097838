import type { Document } from "../document/document.js";
import type { Problem } from "../problems/problem.js";
import { indexAt } from "../text/lines.js";
import type { Span } from "../text/span.js";
import { type Action, action } from "./action.js";
import { barsFromChords } from "./bars-from-chords.js";
import { fromLetters } from "./from-letters.js";

/** What makes rows of chords that were typed or pasted as they stand on paper. `problem` is that of the cursor's line. */
export function firstHourActions(
  document: Document,
  span: Span,
  problem: Problem | undefined,
): readonly Action[] {
  const found: Action[] = [];
  const pasted = fromLetters(document, span);
  if (pasted !== undefined) {
    const change = () => ({ edits: pasted, notes: [] });
    found.push({ ...action("quickfix", "Make sections of these chords and words", change), problem });
  }
  const bars = barsFromChords(document, indexAt(document.tree.starts, span.start));
  if (bars !== undefined) {
    const change = () => ({ edits: [bars], notes: [] });
    found.push({ ...action("quickfix", "Make a row of these chords, one in each bar", change), problem });
  }
  return found;
}
