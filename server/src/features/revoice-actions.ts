import { type Document, reachInForce } from "../document/document.js";
import { type Hand, usualReach } from "../keyboard/hand.js";
import { indexAt } from "../text/lines.js";
import type { Span } from "../text/span.js";
import { intervalOfWhiteKeys } from "../theory/interval-name.js";
import { type Action, action } from "./action.js";
import { type ReachWish, revoice } from "./revoice.js";

/**
 * The whole chart for the reach that it is judged by: on a `reach` line, and where a hand can't hold what stands at the
 * place. Where all are asked for, also for hands one white key smaller.
 */
export function revoiceActions(document: Document, span: Span, all: boolean): readonly Action[] {
  const { tree, chart, problems } = document;
  const isReach = tree.lines[indexAt(tree.starts, span.start)]?.statement.kind === "reach";
  const isUnheld = problems.some(
    (it) => it.code === "hand-span" && it.span.start <= span.end && it.span.end >= span.start,
  );
  const hasHands = chart.sections.some(
    ({ section: { rows } }) => rows.left.slots.length + rows.right.slots.length > 0,
  );
  if ((!all && !isReach && !isUnheld) || !hasHands) return [];
  const { left = usualReach, right = usualReach } = reachInForce(document);
  return [
    offer(document, { left, right }),
    ...(all && (left > leastReach || right > leastReach)
      ? [offer(document, { left: smaller(left), right: smaller(right) })]
      : []),
  ];
}

/** White keys: the least that can be said. */
const leastReach = 5;
const smaller = (reach: number): number => Math.max(leastReach, reach - 1);

const offer = (document: Document, wish: Required<ReachWish>): Action =>
  action("refactor.rewrite", `Revoice the chart for ${handWords(wish)}`, () => revoice(document, wish));

function handWords({ left, right }: Required<ReachWish>): string {
  if (left === right) return `hands that reach ${intervalOfWhiteKeys(left)}`;
  const one = (hand: Hand, reach: number): string =>
    `a ${hand} hand that reaches ${intervalOfWhiteKeys(reach)}`;
  return `${one("left", left)} and ${one("right", right)}`;
}
