import type { Outline } from "../chart/outline.js";
import type { Statement } from "../syntax/tree.js";
import type { Edit } from "../text/edits.js";
import { headLineEdit } from "./head-line.js";

/**
 * The edit that makes a chart's head say its tempo, in beats a minute: in the line that counts now, else in the first
 * one that can't be read.
 */
export function tempoLineEdit(outline: Outline, tempo: number): Edit {
  const lines = outline.header.map(({ statement }) => statement).filter(saysTempo);
  const line = lines.find(({ value }) => value !== undefined) ?? lines[0];
  return headLineEdit(outline, "tempo", `${tempo}`, (it) =>
    saysTempo(it) && it === line ? it.span : undefined,
  );
}

const saysTempo = (it: Statement): it is Extract<Statement, { kind: "tempo" }> => it.kind === "tempo";
