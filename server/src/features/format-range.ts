import type { Document } from "../document/document.js";
import { format } from "../edits/format.js";
import type { Edit } from "../text/edits.js";
import type { Span } from "../text/span.js";

/** The edits that lay out the systems and lines that a range touches, and no other. */
export const formatRange = ({ tree }: Document, range: Span): readonly Edit[] => format(tree, range);
