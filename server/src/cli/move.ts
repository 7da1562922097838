import type { Document } from "../document/document.js";
import type { EditResult } from "../edits/result.js";
import { transposeChart } from "../edits/transpose.js";
import { readKey } from "../theory/key.js";
import { readName } from "../theory/note-name.js";

type Moved = Extract<EditResult, { edits: unknown }>;

/** The edits that move a chart to a key as it was typed: `Ab`, `a♭`, `F# minor`, `Cm`. */
export function moveTo(document: Document, text: string): Moved | { readonly complaint: string } {
  const target = readTarget(text);
  if (target === undefined)
    return {
      complaint: `“${text}” is no key. Write a tonic such as Ab, C or F#, or a key such as "C minor".`,
    };
  const moved = transposeChart(document, target);
  return "refused" in moved ? { complaint: moved.refused } : moved;
}

function readTarget(
  text: string,
): { tonic: number; mode: Document["chart"]["header"]["home"]["key"]["mode"] | undefined } | undefined {
  const typed = text.trim();
  const capital = typed.slice(0, 1).toUpperCase() + typed.slice(1);
  const tonic = readName(capital);
  if (tonic !== undefined) return { tonic, mode: undefined };
  return readKey(capital);
}
