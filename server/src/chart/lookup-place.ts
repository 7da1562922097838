import type { Line } from "../syntax/tree.js";
import { type Span, shift } from "../text/span.js";
import type { Charted, Where } from "./located.js";
import type { PlacedSection } from "./model.js";

/** A place that is looked up. */
export interface Place {
  readonly charted: Charted;
  readonly lineIndex: number;
  readonly line: Line;
  readonly lineStart: number;
  readonly placed: PlacedSection | undefined;
  /** From the line's start. */
  readonly inLine: number;
}

export const where = ({ lineIndex, line, lineStart, placed }: Place, inLine: Span): Where => ({
  span: shift(inLine, lineStart),
  lineIndex,
  line,
  lineStart,
  placed,
});

export const holds = ({ start, end }: Span, at: number): boolean => start <= at && at < end;
