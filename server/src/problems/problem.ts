import { type Edit, shiftEdit } from "../text/edits.js";
import { type Span, shift } from "../text/span.js";
import { type Code, catalogue, type FactsOf } from "./catalogue.js";
import type { Severity } from "./entry.js";

/** Another place that a problem speaks of. */
export interface Related {
  readonly span: Span;
  readonly message: string;
}

/** A change that mends a problem. */
export interface Fix {
  /** What it does, as a sentence for a menu: `Write 6:7`. */
  readonly title: string;
  readonly edits: readonly Edit[];
  /** The fix can't change a sounding note, so it may be applied unasked. */
  readonly silent: boolean;
}

/**
 * Something that doesn't add up, with its place. Spans count from the owner's start: the line for what the
 * parser found, the section for what resolving and the section checks found, the text in a document.
 */
export interface Problem {
  readonly code: Code;
  readonly severity: Severity;
  readonly message: string;
  /** The row that it stands in; `undefined` outside a row. */
  readonly row: string | undefined;
  readonly span: Span;
  readonly related: readonly Related[];
  readonly fixes: readonly Fix[];
  /** The facts that the message was made from, as plain data. */
  readonly facts: Readonly<Record<string, unknown>>;
}

/** What a problem may have beside its code, place and facts. */
export interface Extras {
  readonly row?: string | undefined;
  readonly related?: readonly Related[];
  readonly fixes?: readonly Fix[];
  /** In place of the catalogue's severity, for the codes that have two. */
  readonly severity?: Severity;
}

/** The problem of this code, with its message made from the facts. */
export function problem<C extends Code>(
  code: C,
  span: Span,
  facts: FactsOf<C>,
  extras: Extras = {},
): Problem {
  const entry = catalogue[code];
  return {
    code,
    severity: extras.severity ?? entry.severity,
    message: (entry.message as (facts: FactsOf<C>) => string)(facts),
    row: extras.row,
    span,
    related: extras.related ?? [],
    fixes: extras.fixes ?? [],
    facts: facts as Readonly<Record<string, unknown>>,
  };
}

/** The same problem, its spans (those of related places and fixes too) counted from `by` units earlier. */
export function shiftProblem(it: Problem, by: number): Problem {
  if (by === 0) return it;
  return {
    ...it,
    span: shift(it.span, by),
    related: it.related.map((related) => ({ ...related, span: shift(related.span, by) })),
    fixes: it.fixes.map((fix) => ({
      ...fix,
      edits: fix.edits.map((edit) => shiftEdit(edit, by)),
    })),
  };
}

/** Sorts problems by their place: the shorter one first, then by code. */
export const byPlace = (a: Problem, b: Problem): number =>
  a.span.start - b.span.start || a.span.end - b.span.end || (a.code < b.code ? -1 : a.code > b.code ? 1 : 0);
