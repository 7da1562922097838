import type { Outline } from "../chart/outline.js";
import type { Edit } from "../text/edits.js";
import { headLineEdit } from "./head-line.js";

/** The edit that makes a chart's head say its tempo, in beats a minute. */
export const tempoLineEdit = (outline: Outline, tempo: number): Edit =>
  headLineEdit(outline, "tempo", `${tempo}`, (statement) =>
    statement.kind === "tempo" && statement.value !== undefined ? statement.span : undefined,
  );
