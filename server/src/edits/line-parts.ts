import type { Line } from "../syntax/tree.js";
import { sliceOf } from "../text/span.js";
import { isSpace } from "./respace.js";

/** Where what follows a line's first word starts: one space after the longest of them, `section`. */
export const valueColumn = 8;
/** Stands before a comment that ends a line. */
const commentGap = "  ";

/** The line without its line end. */
export function bodyOf({ text }: Line): string {
  let end = text.length;
  while (end > 0 && (text[end - 1] === "\n" || text[end - 1] === "\r")) end--;
  return text.slice(0, end);
}

/** What stands before the comment, and the comment; both without the spaces around them. */
export function partComment(line: Line): { readonly said: string; readonly comment: string } {
  const body = bodyOf(line);
  // Without its sign there is no comment, and no need to cut the line into tokens.
  const token = body.includes(";") ? line.tokens.findLast(({ kind }) => kind === "comment") : undefined;
  if (token === undefined) return { said: trimEnd(body), comment: "" };
  return { said: trimEnd(body.slice(0, token.span.start)), comment: trimEnd(sliceOf(body, token.span)) };
}

export function trimEnd(text: string): string {
  let end = text.length;
  while (end > 0 && isSpace(text.charCodeAt(end - 1))) end--;
  return end === text.length ? text : text.slice(0, end);
}
export const oneSpace = (text: string): string => text.replace(/[ \t]+/g, " ");
export const withComment = (said: string, comment: string): string =>
  comment === "" ? trimEnd(said) : said + commentGap + comment;
