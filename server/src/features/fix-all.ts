import type { Document } from "../document/document.js";
import { fixSilently, hasSilentFixes } from "../document/silent-fixes.js";
import { type Edit, editsBetween } from "../text/edits.js";
import { type Action, action } from "./action.js";

/** The edits that mend all that can be mended without changing a sounding note, as `plagal check --fix` does. */
export const fixAll = (document: Document): readonly Edit[] =>
  editsBetween(document.text, fixSilently(document).document.text);

/** The same as an action; none where there is nothing to mend. */
export const fixAllActions = (document: Document): readonly Action[] =>
  hasSilentFixes(document)
    ? [
        action("source.fixAll.plagal", "Fix all that can't be heard", () => ({
          edits: fixAll(document),
          notes: [],
        })),
      ]
    : [];
