import type { Edit } from "../text/edits.js";

/** A space or a tab, as a UTF-16 unit. */
export const isSpace = (unit: number): boolean => unit === 32 || unit === 9;

/**
 * Adds to `edits` those that turn one line into another that differs from it in spaces alone, one a run of spaces
 * that differs; none where the lines differ in more. `start` is where the line starts in its text.
 */
export function respace(from: string, to: string, start: number, edits: Edit[]): void {
  if (from === to) return;
  const count = edits.length;
  let a = 0;
  let b = 0;
  for (;;) {
    const runA = a;
    const runB = b;
    let same = true;
    for (; isSpace(from.charCodeAt(a)); a++) same &&= from.charCodeAt(a) === to.charCodeAt(runB + a - runA);
    while (isSpace(to.charCodeAt(b))) b++;
    if (!same || a - runA !== b - runB)
      edits.push({ span: { start: start + runA, end: start + a }, text: to.slice(runB, b) });
    if (a === from.length && b === to.length) return;
    if (from.charCodeAt(a) !== to.charCodeAt(b)) {
      edits.length = count;
      return;
    }
    a++;
    b++;
  }
}
