/** A stretch of text in UTF-16 units: `start` included, `end` excluded. What it counts from, its owner says. */
export interface Span {
  readonly start: number;
  readonly end: number;
}

/** The same stretch, counted from a place that lies `by` units earlier. */
export const shift = ({ start, end }: Span, by: number): Span => ({ start: start + by, end: end + by });

export const sliceOf = (text: string, { start, end }: Span): string => text.slice(start, end);
