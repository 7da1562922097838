import type { IToken } from "chevrotain";
import type { Span } from "../text/span.js";

/** A name without the quotes around it, trimmed. */
export const unquoted = (token: IToken): { text: string; span: Span } => {
  const { image } = token;
  const start = token.startOffset;
  const end = start + image.length;
  if (!image.startsWith('"')) return { text: image, span: { start, end } };
  const closes = image.length > 1 && image.endsWith('"');
  const inner = image.slice(1, closes ? -1 : undefined);
  const text = inner.trim();
  const from = start + 1 + inner.length - inner.trimStart().length;
  return { text, span: { start: from, end: from + text.length } };
};
