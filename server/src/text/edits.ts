import { lineStarts, splitLines } from "./lines.js";
import { type Span, shift } from "./span.js";

/** Puts `text` in place of `span`. An empty span inserts; an empty text deletes. */
export interface Edit {
  readonly span: Span;
  readonly text: string;
}

/** The same edit, counted from a place that lies `by` units earlier. */
export const shiftEdit = ({ span, text }: Edit, by: number): Edit => ({ span: shift(span, by), text });

/** In the order of the text; two insertions at one place keep the order they were given in. */
export const sortEdits = (edits: readonly Edit[]): Edit[] =>
  [...edits].sort((a, b) => a.span.start - b.span.start || a.span.end - b.span.end);

/** `true` where no two of these edits touch the same character. */
export function areApart(edits: readonly Edit[]): boolean {
  const sorted = sortEdits(edits);
  return sorted.every((edit, i) => i === 0 || (sorted[i - 1] as Edit).span.end <= edit.span.start);
}

/** The text after the edits, which are all counted in the text before and may not overlap. */
export function applyEdits(text: string, edits: readonly Edit[]): string {
  let result = "";
  let at = 0;
  for (const { span, text: replacement } of sortEdits(edits)) {
    if (span.start < at) throw new RangeError("two edits overlap");
    result += text.slice(at, span.start) + replacement;
    at = span.end;
  }
  return result + text.slice(at);
}

/**
 * Edits that make one text of another and leave alone what they share: in each line its ends, where both texts have
 * as many lines, else the ends of the whole. `"a b c"` to `"a d c"` replaces the b.
 */
export function editsBetween(before: string, after: string): readonly Edit[] {
  if (before === after) return [];
  const old = splitLines(before);
  const now = splitLines(after);
  if (old.length !== now.length) return [editBetween(before, after, 0)];
  const starts = lineStarts(old);
  return old.flatMap((line, i) =>
    line === now[i] ? [] : [editBetween(line, now[i] as string, starts[i] as number)],
  );
}

function editBetween(before: string, after: string, from: number): Edit {
  const most = Math.min(before.length, after.length);
  let start = 0;
  while (start < most && before[start] === after[start]) start++;
  let same = 0;
  while (same < most - start && before[before.length - 1 - same] === after[after.length - 1 - same]) same++;
  return {
    span: { start: from + start, end: from + before.length - same },
    text: after.slice(start, after.length - same),
  };
}
