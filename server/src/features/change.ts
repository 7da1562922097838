import type { Document } from "../document/document.js";
import type { EditResult } from "../edits/result.js";
import type { Edit } from "../text/edits.js";
import { indexAt } from "../text/lines.js";
import { sliceOf } from "../text/span.js";

/** A change of a chart's text, with what the player should know of it; or why it is not made. */
export type Change =
  | { readonly edits: readonly Edit[]; readonly notes: readonly string[] }
  | { readonly refused: string };

/**
 * The change that an edit comes to: its notes say their line as it is counted once the change is made, since they are
 * read away from the text and after it.
 */
export function changeOf({ tree }: Document, result: EditResult): Change {
  if ("refused" in result) return { refused: result.refused };
  const { edits } = result;
  const linesAdded = edits.map(({ span, text }) => ({
    at: span.end,
    count: lineEnds(text) - lineEnds(sliceOf(tree.text, span)),
  }));
  const notes = result.notes.map(({ message, span }) => {
    const added = linesAdded.reduce((sum, { at, count }) => (at <= span.start ? sum + count : sum), 0);
    return `Line ${indexAt(tree.starts, span.start) + 1 + added}: ${message}`;
  });
  return { edits, notes };
}

const lineEnds = (text: string): number => text.match(/\r\n|\n|\r/g)?.length ?? 0;
