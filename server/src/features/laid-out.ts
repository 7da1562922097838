import type { Document } from "../document/document.js";
import { isOutOfLine } from "../edits/in-line.js";
import { applyEdits } from "../text/edits.js";
import type { Change } from "./change.js";

/** A change that says so where it moves rows out of line. */
export function laidOut({ tree, text }: Document, change: Change): Change {
  if ("refused" in change || !isOutOfLine(tree, applyEdits(text, change.edits))) return change;
  return {
    edits: change.edits,
    notes: [...change.notes, "Some rows no longer stand in line. Format the chart to line them up."],
  };
}
