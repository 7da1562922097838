import { type Position, positionAt } from "../text/lines.js";
import type { Span } from "../text/span.js";

/** A place as the command prints it: line and column from 1, columns in UTF-16 units. */
export interface PrintedPlace {
  readonly line: number;
  readonly column: number;
}

/** `end` excludes. */
export interface PrintedRange {
  readonly start: PrintedPlace;
  readonly end: PrintedPlace;
}

const printed = ({ line, column }: Position): PrintedPlace => ({ line: line + 1, column: column + 1 });

/** The range of a span, given where the lines start. */
export const rangeOf = (starts: readonly number[], { start, end }: Span): PrintedRange => ({
  start: printed(positionAt(starts, start)),
  end: printed(positionAt(starts, end)),
});
