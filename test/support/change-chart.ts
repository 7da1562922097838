import { expect } from "vitest";
import { type Document, openDocument } from "../../server/src/document/document.js";
import type { Action } from "../../server/src/features/action.js";
import { type ActionOptions, actions } from "../../server/src/features/actions.js";
import type { Change } from "../../server/src/features/change.js";
import { applyEdits, areApart } from "../../server/src/text/edits.js";
import type { Span } from "../../server/src/text/span.js";
import { usedFiles } from "./generate-chart.js";
import { marked } from "./marked.js";

/** A chart with its selection, or with its cursor as an empty one. */
export function openMarked(chart: string): { readonly document: Document; readonly span: Span } {
  const { text, cursor, span } = marked(chart);
  const at = span ?? (cursor === undefined ? undefined : { start: cursor, end: cursor });
  if (at === undefined) throw new Error(`no mark in:\n${chart}`);
  return { document: openDocument("chart.plagal", text, usedFiles), span: at };
}

/** The text after a change; of a refused one the reason, in parentheses. */
export function changed(document: Document, change: Change): string {
  if ("refused" in change) return `(${change.refused})`;
  expect(areApart(change.edits)).toBe(true);
  return applyEdits(document.text, change.edits);
}

/** What is offered at the mark of a chart. */
export function offered(chart: string, options?: ActionOptions): readonly Action[] {
  const { document, span } = openMarked(chart);
  return actions(document, span, options);
}

/** The chart after the action of this title (or the first whose title begins so). */
export function acted(chart: string, title: string, options?: ActionOptions): string {
  const { document, span } = openMarked(chart);
  const all = actions(document, span, options);
  const action = all.find((it) => it.title === title) ?? all.find((it) => it.title.startsWith(title));
  if (action === undefined)
    throw new Error(`“${title}” is not offered, but:\n${all.map((it) => it.title).join("\n")}`);
  return changed(document, action.change());
}
