import { sectionAt } from "../chart/locate.js";
import type { Line, RowLine, RowName } from "../syntax/tree.js";
import type { Span } from "../text/span.js";
import type { Offer, TypingPlace } from "./completion-place.js";
import { barsToFill } from "./completion-words.js";

/** Bars for a row that has none yet: as many as the row above it, or the row below. */
export function barOffers(place: TypingPlace, row: RowLine, span: Span): readonly Offer[] {
  const { body } = place;
  if (body.includes("|") || body.slice(span.end).trim() !== "" || span.start !== span.end) return [];
  const neighbour = [-1, 1].map((step) => rowAt(place, step)).find((it) => it !== undefined);
  return [
    {
      label: "| … |",
      kind: "snippet",
      detail: "bars to fill",
      span,
      text: barsToFill(row.row as RowName, neighbour?.bars ?? [], undefined),
      isSnippet: true,
      filter: "|",
    },
  ];
}

function rowAt({ document, lineIndex }: TypingPlace, step: number): RowLine | undefined {
  let at = lineIndex + step;
  while (document.tree.lines[at]?.statement.kind === "comment") at += step;
  const statement = (document.tree.lines[at] as Line | undefined)?.statement;
  const isSame = sectionAt(document, at) === sectionAt(document, lineIndex);
  return statement?.kind === "row" && isSame ? statement : undefined;
}
