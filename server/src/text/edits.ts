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
