import { sectionAt } from "../chart/locate.js";
import type { PlacedSection } from "../chart/model.js";
import type { Document } from "../document/document.js";
import { indexAt } from "../text/lines.js";
import type { Span } from "../text/span.js";

/** What a change is about: the whole chart, one section, or the systems that a selection touches. */
export type Scope =
  | { readonly kind: "chart" }
  | { readonly kind: "section"; readonly placed: PlacedSection }
  | { readonly kind: "selection"; readonly span: Span };

export const wholeChart: Scope = { kind: "chart" };

/** The section whose text holds a place; `undefined` in the header. */
export const sectionScope = (document: Document, offset: number): Scope | undefined => {
  const placed = sectionAt(document, indexAt(document.tree.starts, offset));
  return placed && { kind: "section", placed };
};
