import type { Document } from "../document/document.js";
import { positionAt } from "../text/lines.js";
import type { Span } from "../text/span.js";
import { visible } from "../text/visible.js";
import type { Io } from "./io.js";
import { nameOfSource, type Source } from "./source.js";

/** Says on standard error what an edit left as it was or wrote in another way. The edit is done all the same. */
export function sayNotes(
  io: Io,
  source: Source,
  document: Document,
  notes: readonly { readonly message: string; readonly span: Span }[],
): void {
  for (const { message, span } of notes) {
    const { line, column } = positionAt(document.tree.starts, span.start);
    io.err(`${nameOfSource(source.path)}:${line + 1}:${column + 1}: ${visible(message)}\n`);
  }
}
