import type { Line } from "../syntax/tree.js";
import type { Span } from "../text/span.js";

/** The word that a line starts with. Counts from the line's start. */
export function firstWordSpan({ text }: Line): Span {
  const found = /[^ \t\uFEFF]+/.exec(text);
  const start = found?.index ?? 0;
  return { start, end: start + (found?.[0].length ?? 0) };
}
