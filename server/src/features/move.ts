import type { Document } from "../document/document.js";
import { readTarget } from "../edits/key-target.js";
import type { EditResult } from "../edits/result.js";
import { type KeyTarget, transposeChart } from "../edits/transpose.js";
import { transposeSection, transposeSelection } from "../edits/transpose-part.js";
import { type Change, changeOf } from "./change.js";
import { laidOut } from "./laid-out.js";
import type { Scope } from "./scope.js";

/** Moves a chart or a part of it to a key as it was typed (`Ab`, `f#`, `Cm`) or as a target. */
export function move(document: Document, scope: Scope, key: string | KeyTarget): Change {
  const target = typeof key === "string" ? readTarget(key) : key;
  if ("refused" in target) return target;
  return laidOut(document, changeOf(document, moved(document, scope, target)));
}

function moved(document: Document, scope: Scope, target: KeyTarget): EditResult {
  switch (scope.kind) {
    case "chart":
      return transposeChart(document, target);
    case "section":
      return transposeSection(document, scope.placed, target);
    case "selection":
      return transposeSelection(document, scope.span, target);
  }
}
