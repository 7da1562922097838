import type { Reach } from "../chart/model.js";
import type { Outline } from "../chart/outline.js";
import type { Edit } from "../text/edits.js";
import { headLineEdit } from "./head-line.js";

/** The edit that makes a chart's head say how far the hands reach, for each hand that `reach` says. */
export const reachLineEdit = (outline: Outline, reach: Reach): Edit =>
  headLineEdit(outline, "reach", wordsOf(reach), (statement) =>
    statement.kind === "reach" && (statement.left ?? statement.right) !== undefined
      ? statement.span
      : undefined,
  );

function wordsOf({ left, right }: Reach): string {
  if (left === right) return `${left ?? ""}`;
  const words = [left === undefined ? "" : `left ${left}`, right === undefined ? "" : `right ${right}`];
  return words.filter((word) => word !== "").join(" ");
}
