import type { Document } from "../document/document.js";
import { positionAt } from "../text/lines.js";
import type { Span } from "../text/span.js";
import { visible } from "./draw.js";
import type { ExitCode, Io } from "./io.js";
import { nameOfSource, type Source } from "./source.js";

/** Says on standard error what an edit had to leave or change. */
export function sayNotes(
  io: Io,
  source: Source,
  document: Document,
  notes: readonly { readonly message: string; readonly span: Span }[],
): ExitCode {
  for (const { message, span } of notes) {
    const { line, column } = positionAt(document.tree.starts, span.start);
    io.err(`${nameOfSource(source.path)}:${line + 1}:${column + 1}: ${visible(message)}\n`);
  }
  return notes.length > 0 ? 1 : 0;
}
