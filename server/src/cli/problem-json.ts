import type { Problem } from "../problems/problem.js";
import { type PrintedRange, rangeOf } from "./place.js";

/** A problem as `check --json` prints it. */
export interface ProblemJson {
  readonly code: string;
  readonly severity: string;
  readonly message: string;
  readonly row: string | null;
  readonly range: PrintedRange;
  readonly related: readonly { readonly message: string; readonly range: PrintedRange }[];
  readonly fixes: readonly {
    readonly title: string;
    readonly silent: boolean;
    readonly edits: readonly { readonly range: PrintedRange; readonly text: string }[];
  }[];
  /** The facts that the message was made from. */
  readonly data: Readonly<Record<string, unknown>>;
}

export const problemJson = (problem: Problem, starts: readonly number[]): ProblemJson => ({
  code: problem.code,
  severity: problem.severity,
  message: problem.message,
  row: problem.row ?? null,
  range: rangeOf(starts, problem.span),
  related: problem.related.map(({ message, span }) => ({ message, range: rangeOf(starts, span) })),
  fixes: problem.fixes.map(({ title, silent, edits }) => ({
    title,
    silent,
    edits: edits.map(({ span, text }) => ({ range: rangeOf(starts, span), text })),
  })),
  data: problem.facts,
});
