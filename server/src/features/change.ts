import type { Document } from "../document/document.js";
import type { EditResult } from "../edits/result.js";
import type { Edit } from "../text/edits.js";
import { indexAt } from "../text/lines.js";

/** A change of a chart's text, with what the player should know of it; or why it is not made. */
export type Change =
  | { readonly edits: readonly Edit[]; readonly notes: readonly string[] }
  | { readonly refused: string };

/** The change that an edit comes to: its notes say their line, since they are read away from the text. */
export function changeOf({ tree }: Document, result: EditResult): Change {
  if ("refused" in result) return { refused: result.refused };
  const notes = result.notes.map(
    ({ message, span }) => `Line ${indexAt(tree.starts, span.start) + 1}: ${message}`,
  );
  return { edits: result.edits, notes };
}
