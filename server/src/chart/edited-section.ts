import { reparse } from "../syntax/parse.js";
import { applyEdits, type Edit } from "../text/edits.js";
import type { Section } from "./model.js";
import { outline } from "./outline.js";
import { resolveSection } from "./section.js";

/** A section as it would be after edits, whose spans count from its start; `undefined` where none would be left. */
export function editedSection({ source, context }: Section, edits: readonly Edit[]): Section | undefined {
  const [edited] = outline(reparse(source, applyEdits(source.text, edits))).sections;
  return edited && resolveSection(edited.source, context);
}
