import type { Document } from "../document/document.js";
import { partsTouched } from "../edits/transpose-part.js";
import { indexAt } from "../text/lines.js";
import type { Span } from "../text/span.js";
import { prettyKey } from "../theory/key.js";
import { type Action, action } from "./action.js";
import { intervalWords } from "./interval-words.js";
import { moveTargets, type Target } from "./keys.js";
import { move } from "./move.js";
import { type Scope, sectionScope, wholeChart } from "./scope.js";

const names: Readonly<Record<Scope["kind"], string>> = {
  chart: "the chart",
  section: "this section",
  selection: "the selected bars",
};

/**
 * Moves to other keys: to the eleven others where the cursor is on a key line or `all` are asked for, else a half step
 * up and down. A selection moves alone; without one the chart moves, and where all are asked for its section too.
 */
export function moveActions(document: Document, span: Span, all: boolean): readonly Action[] {
  if (span.end > span.start && partsTouched(document, span).length > 0)
    return inScope(document, { kind: "selection", span }, all);
  const { tree } = document;
  const line = tree.lines[indexAt(tree.starts, span.start)];
  const isKey = line?.statement.kind === "key" && line.statement.tonic !== undefined;
  const section = sectionScope(document, span.start);
  const own =
    section?.kind === "section" && section.placed.section.source.nameSpan !== undefined ? section : undefined;
  if (isKey && own !== undefined) return inScope(document, own, true);
  const chart = inScope(document, wholeChart, all || isKey);
  const isOneOf = document.outline.sections.length > 1;
  return all && own !== undefined && isOneOf ? [...chart, ...inScope(document, own, true)] : chart;
}

function inScope(document: Document, scope: Scope, all: boolean): readonly Action[] {
  const targets = moveTargets(document, scope);
  const chosen = all ? targets.slice(1) : [targets[1], targets[targets.length - 1]];
  return chosen
    .filter((target): target is Target => target !== undefined)
    .map(({ key, halfSteps }) =>
      action(
        "refactor.move",
        `Move ${names[scope.kind]} to ${prettyKey(key)}, ${intervalWords(halfSteps)}`,
        () => move(document, scope, { tonic: key.tonic, mode: undefined }),
      ),
    );
}
