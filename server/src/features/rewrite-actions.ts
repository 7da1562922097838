import { sectionAt } from "../chart/locate.js";
import type { Document } from "../document/document.js";
import { lettersOf } from "../edits/letters.js";
import type { RewrittenRow } from "../edits/rewrite.js";
import { isTextRow } from "../syntax/text-row.js";
import type { RowLine, Slot } from "../syntax/tree.js";
import { indexAt } from "../text/lines.js";
import type { Span } from "../text/span.js";
import { type Action, action } from "./action.js";
import { type Notation, rewrite } from "./rewrite.js";

const names: Readonly<Record<RewrittenRow, string>> = {
  chords: "chords",
  lead: "melody",
  right: "right hand",
  left: "left hand",
  bass: "bass",
};

/** Writes the row at the cursor in its other notation, through its section and through the chart; the chords where no row is and `always`. */
export function rewriteActions(document: Document, span: Span, always: boolean): readonly Action[] {
  const { tree } = document;
  const lineIndex = indexAt(tree.starts, span.start);
  const statement = tree.lines[lineIndex]?.statement;
  if (statement?.kind !== "row" || isTextRow(statement.row)) {
    return always ? (["numbers", "letters"] as const).map((to) => inChart(document, "chords", to)) : [];
  }
  const { row } = statement;
  const placed = sectionAt(document, lineIndex);
  return notationsOf(statement).flatMap((to) => [
    ...(placed === undefined || document.outline.sections.length < 2
      ? []
      : [
          action("refactor.rewrite", `Write the ${names[row]} of this section as ${to}`, () =>
            rewrite(document, to, [row], placed),
          ),
        ]),
    inChart(document, row, to),
  ]);
}

const inChart = (document: Document, row: RewrittenRow, to: Notation): Action =>
  action("refactor.rewrite", `Write the ${names[row]} of the chart as ${to}`, () =>
    rewrite(document, to, [row]),
  );

/** What a row can be turned into: the notation that some of it is not written in. */
function notationsOf(row: RowLine): readonly Notation[] {
  const isLettered = lettersOf({ ...row, from: undefined }).length > 0;
  const slots = [...row.pickup, ...row.bars.flatMap(({ slots }) => slots)];
  return [
    ...(slots.some(hasNumber) ? (["letters"] as const) : []),
    ...(isLettered ? (["numbers"] as const) : []),
  ];
}

function hasNumber(slot: Slot): boolean {
  if (slot.kind === "group") return slot.slots.some(hasNumber);
  const { content } = slot;
  switch (content.kind) {
    case "chord":
      return content.root.kind === "degree" || content.bass?.kind === "degree";
    case "bass":
      return content.bass.kind === "degree";
    case "stack":
      return content.tones.some(({ name }) => name.kind === "number");
    default:
      return false;
  }
}
