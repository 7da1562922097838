import type { Document } from "../document/document.js";
import { indexAt } from "../text/lines.js";
import type { Span } from "../text/span.js";
import { type Action, action } from "./action.js";
import { endPractice, hasPractice, type PractiseOrder, practise } from "./practise.js";

const orders: readonly (readonly [PractiseOrder, string])[] = [
  ["fourths", "round the fourths"],
  ["half-steps", "up by half steps"],
  ["shuffled", "in a shuffled order"],
];

/** Practice in twelve keys, offered on a `form` line and where rewriting is asked for. */
export function practiseActions(
  document: Document,
  span: Span,
  seed: number,
  always: boolean,
): readonly Action[] {
  const { tree } = document;
  const isForm = tree.lines[indexAt(tree.starts, span.start)]?.statement.kind === "form";
  if (!isForm && !always) return [];
  const practices = orders.map(([order, words]) =>
    action("refactor.rewrite", `Practise in twelve keys, ${words}`, () => practise(document, order, seed)),
  );
  if (!hasPractice(document)) return practices;
  return [
    ...practices,
    action("refactor.rewrite", "Take the practice lines away", () => endPractice(document)),
  ];
}
