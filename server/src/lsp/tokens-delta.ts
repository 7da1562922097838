import type { SemanticTokensEdit } from "vscode-languageserver";

/** Tells numbers of one token apart: line, column, length, type, modifiers. */
const width = 5;

/**
 * What changes `before` into `after`, as one edit of whole tokens at most: what stands before and after the change
 * is the same in both, since places count from the token before.
 */
export function tokensDelta(before: readonly number[], after: readonly number[]): SemanticTokensEdit[] {
  const most = Math.min(before.length, after.length);
  let front = 0;
  while (front < most && before[front] === after[front]) front++;
  if (front === before.length && front === after.length) return [];
  front -= front % width;
  let back = 0;
  while (back < most - front && before[before.length - 1 - back] === after[after.length - 1 - back]) back++;
  back -= back % width;
  return [
    {
      start: front,
      deleteCount: before.length - front - back,
      data: after.slice(front, after.length - back),
    },
  ];
}
