import type { Problem } from "../problems/problem.js";
import { applyEdits, areApart, type Edit } from "../text/edits.js";
import { type Document, withText } from "./document.js";

/** Rounds of fixing at most: a fix may bring another to light. */
const mostRounds = 10;

/** A chart after its silent fixes, and how many were applied. */
export interface Fixed {
  readonly document: Document;
  readonly fixed: number;
}

/** Applies the fixes that can't change a sounding note, those that come to light by fixing included. */
export function fixSilently(document: Document): Fixed {
  let latest = document;
  let fixed = 0;
  for (let round = 0; round < mostRounds; round++) {
    const { edits, count } = silentEdits(latest.problems);
    const text = applyEdits(latest.text, edits);
    if (text === latest.text) break;
    fixed += count;
    latest = withText(latest, text);
  }
  return { document: latest, fixed };
}

/** Whether there is anything to fix silently. */
export const hasSilentFixes = ({ problems }: Document): boolean =>
  problems.some(({ fixes }) => fixes.some(({ silent, edits }) => silent && edits.length > 0));

/** The silent fixes that can be applied together, the earlier in the text before the later. */
function silentEdits(problems: readonly Problem[]): {
  readonly edits: readonly Edit[];
  readonly count: number;
} {
  const edits: Edit[] = [];
  let count = 0;
  let reached = 0;
  for (const { fixes } of problems) {
    const added = fixes.find(({ silent }) => silent)?.edits ?? [];
    if (added.length === 0) continue;
    const from = Math.min(...added.map(({ span }) => span.start));
    const to = Math.max(...added.map(({ span }) => span.end));
    const near = from >= reached ? [] : edits.filter(({ span }) => span.end >= from && span.start <= to);
    if (!areApart([...near, ...added])) continue;
    edits.push(...added);
    reached = Math.max(reached, to);
    count++;
  }
  return { edits, count };
}
