import type { Note } from "../chart/model.js";
import { signsFor } from "../edits/octave-in-text.js";
import type { Edit } from "../text/edits.js";
import { shift } from "../text/span.js";

/**
 * The edit that writes a note so many octaves higher (lower below 0): its `<` and `>` changed, or new ones where
 * they stand in order, before `k` and `c` and after a grace note's `~`. A letter with its octave has no signs.
 */
export function octaveEdit({ span, tone }: Note, by: number): Edit {
  const start = span.start - tone.span.start;
  const text = signsFor(tone.octaves + by);
  if (tone.octaveSigns !== undefined) return { span: shift(tone.octaveSigns, start), text };
  // The `k` of `k9~5` stands before both tones.
  const at =
    start + (tone.graceSpan === undefined ? (tone.held?.end ?? tone.span.start) : tone.graceSpan.end + 1);
  return { span: { start: at, end: at }, text };
}
