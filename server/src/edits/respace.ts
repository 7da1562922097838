import type { Edit } from "../text/edits.js";

const isSpace = (unit: number): boolean => unit === 32 || unit === 9;

/**
 * The edits that turn one line into another that differs from it in spaces alone, one a run of spaces that
 * differs. Nothing where they differ in more. `start` is where the line starts in its text.
 */
export function respace(from: string, to: string, start: number): Edit[] {
  if (from === to) return [];
  const edits: Edit[] = [];
  let a = 0;
  let b = 0;
  for (;;) {
    const runA = a;
    const runB = b;
    while (isSpace(from.charCodeAt(a))) a++;
    while (isSpace(to.charCodeAt(b))) b++;
    if ((a > runA || b > runB) && from.slice(runA, a) !== to.slice(runB, b))
      edits.push({ span: { start: start + runA, end: start + a }, text: to.slice(runB, b) });
    if (a === from.length && b === to.length) return edits;
    if (from.charCodeAt(a) !== to.charCodeAt(b)) return [];
    a++;
    b++;
  }
}
