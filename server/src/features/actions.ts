import type { Document } from "../document/document.js";
import type { Problem } from "../problems/problem.js";
import { indexAt } from "../text/lines.js";
import type { Span } from "../text/span.js";
import type { Action } from "./action.js";
import { firstHourActions } from "./first-hour-actions.js";
import { fixAllActions } from "./fix-all.js";
import { moveActions } from "./move-actions.js";
import { practiseActions } from "./practise-actions.js";
import { reachActions } from "./reach-actions.js";
import { revoiceActions } from "./revoice-actions.js";
import { rewriteActions } from "./rewrite-actions.js";
import { nextVoicingActions, voicingActions } from "./voicing-actions.js";

export interface ActionOptions {
  /** Kinds that are asked for, each with those below it (`refactor` asks for `refactor.move` too); all where unsaid. */
  readonly only?: readonly string[];
  /** Decides the order of a shuffled practice; a whole number. */
  readonly seed?: number;
}

/** What can be done at a place of a chart, what mends it first. `span` is a selection, or the cursor as an empty one. */
export function actions(document: Document, span: Span, options: ActionOptions = {}): readonly Action[] {
  const { only, seed = 1 } = options;
  const isAsked = (kind: string): boolean =>
    only === undefined || only.some((it) => it === "" || kind === it || kind.startsWith(`${it}.`));
  const asksFor = (...kinds: readonly string[]): boolean => only?.some((it) => kinds.includes(it)) === true;
  const voicings = ["refactor.rewrite", "refactor.rewrite.voice"];
  return [
    ...(isAsked("quickfix") ? quickFixes(document, span) : []),
    ...(isAsked("refactor.move") ? moveActions(document, span, asksFor("refactor.move")) : []),
    ...(isAsked("refactor.rewrite") ? nextVoicingActions(document, span) : []),
    ...(isAsked("refactor.rewrite.voice") ? voicingActions(document, span, asksFor(...voicings)) : []),
    ...(isAsked("refactor.rewrite")
      ? [
          ...revoiceActions(document, span, asksFor("refactor.rewrite")),
          ...rewriteActions(document, span, asksFor("refactor.rewrite")),
          ...practiseActions(document, span, seed, asksFor("refactor.rewrite")),
        ]
      : []),
    ...(isAsked("source.fixAll.plagal") ? fixAllActions(document) : []),
  ];
}

/** The fixes of the problems that touch a span. The first one of a problem is its best. */
function quickFixes(document: Document, span: Span): readonly Action[] {
  const { problems, tree } = document;
  const touched = problems.filter((it) => it.span.start <= span.end && it.span.end >= span.start);
  const cursorLine = indexAt(tree.starts, span.start);
  const lineOf = (problem: Problem): number => indexAt(tree.starts, problem.span.start);
  const first = touched.find((it) => lineOf(it) === cursorLine);
  const found = [
    ...firstHourActions(document, span, first),
    ...touched.flatMap((problem) => [
      ...problem.fixes.map(
        ({ title, edits }): Action => ({
          title,
          kind: "quickfix",
          problem,
          isPreferred: false,
          change: () => ({ edits, notes: [] }),
        }),
      ),
      ...reachActions(document, problem),
    ]),
  ];
  const preferred = new Set<Problem>();
  return found.map((action) => {
    if (action.problem === undefined || preferred.has(action.problem)) return action;
    preferred.add(action.problem);
    return { ...action, isPreferred: true };
  });
}
