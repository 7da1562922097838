import { sliceOf } from "../text/span.js";
import type { Line, Tree } from "./tree.js";

/** The text that the tree was made from, put together from its tokens. */
export function print({ lines }: Tree): string {
  const printed = new Map<Line, string>();
  const textOf = (line: Line): string => {
    const known = printed.get(line) ?? line.tokens.map(({ span }) => sliceOf(line.text, span)).join("");
    printed.set(line, known);
    return known;
  };
  return lines.map(textOf).join("");
}
