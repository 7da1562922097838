import { type Document, reachInForce, withText } from "../document/document.js";
import { revoice as revoiceChart } from "../edits/revoice.js";
import type { Hand } from "../keyboard/hand.js";
import { applyEdits } from "../text/edits.js";
import { intervalOfWhiteKeys } from "../theory/interval-name.js";
import { type Change, changeOf } from "./change.js";
import { laidOut } from "./laid-out.js";

/** How far hands reach, in white keys, 5 to 15 (8 is an octave); a hand that is left out keeps its reach. */
export type ReachWish = Readonly<Partial<Record<Hand, number>>>;

const hands: readonly Hand[] = ["left", "right"];
const [leastReach, mostReach] = [5, 15] as const;

/** A reach as somebody asks for it; `undefined` for what is none. */
export function reachWish(given: unknown): ReachWish | undefined {
  if (typeof given !== "object" || given === null) return undefined;
  const asked = hands.flatMap((hand) => {
    const value: unknown = (given as Partial<Record<Hand, unknown>>)[hand];
    return value === undefined || value === null ? [] : [[hand, value] as const];
  });
  const isReach = (value: unknown): boolean =>
    Number.isInteger(value) && (value as number) >= leastReach && (value as number) <= mostReach;
  return asked.length > 0 && asked.every(([, value]) => isReach(value))
    ? (Object.fromEntries(asked) as ReachWish)
    : undefined;
}

/** Makes the chart playable for hands of another reach, with as few tones changed as can be. */
export function revoice(document: Document, wish: ReachWish): Change {
  const change = laidOut(
    document,
    changeOf(document, revoiceChart(document, { left: wish.left, right: wish.right })),
  );
  if ("refused" in change) return change;
  const judged = reachInForce(withText(document, applyEdits(document.text, change.edits)));
  const overruled = hands.flatMap((hand) => {
    const [asked, inForce] = [wish[hand], judged[hand]];
    return asked === undefined || inForce === undefined || inForce === asked
      ? []
      : [
          `Your setting plagal.reach.${hand} says ${intervalOfWhiteKeys(inForce)} and wins over the chart: change it, or the chart is still judged by it.`,
        ];
  });
  return { edits: change.edits, notes: [...change.notes, ...overruled] };
}
