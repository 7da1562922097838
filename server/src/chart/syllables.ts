import type { Slot } from "../syntax/tree.js";
import { type Span, shift, sliceOf } from "../text/span.js";

/** A syllable as written; `undefined` for the `_` that lets the one before run on. */
export interface Syllable {
  readonly text: string | undefined;
  readonly span: Span;
}

/** `Har-bour _` gives `Har-`, `bour` and a running on. A `-` alone belongs to the syllable before it. */
export function syllablesOf(slots: readonly Slot[], text: string, lineStart: number): Syllable[] {
  const syllables: { text: string | undefined; span: Span }[] = [];
  for (const slot of slots) {
    const span = shift(slot.span, lineStart);
    const written = sliceOf(text, span);
    if (!written.includes("-") && !written.includes("_")) {
      syllables.push({ text: written, span });
      continue;
    }
    for (const found of written.matchAll(/_|[^-_]+-?|-/gu)) {
      const at = span.start + found.index;
      const part = { start: at, end: at + found[0].length };
      if (found[0] !== "-") syllables.push({ text: found[0] === "_" ? undefined : found[0], span: part });
      else {
        const before = syllables.findLast((it) => it.text !== undefined);
        if (before?.text?.endsWith("-") === false) before.text += "-";
      }
    }
  }
  return syllables;
}

/** How many syllables stand in a text of words, without making them: `Har-bour _` has three. */
export function countSyllables(text: string): number {
  let count = 0;
  let isInside = false;
  for (let i = 0; i < text.length; i++) {
    const it = text[i];
    if (it === "_") count++;
    const isLetter = it !== " " && it !== "\t" && it !== "-" && it !== "_";
    if (isLetter && !isInside) count++;
    isInside = isLetter;
  }
  return count;
}
