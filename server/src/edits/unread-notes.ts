import { clip } from "../problems/clip.js";
import { isUnread } from "../problems/unread.js";
import type { Statement, Tree } from "../syntax/tree.js";
import { shift, sliceOf } from "../text/span.js";
import type { EditNote } from "./result.js";

/**
 * What can't be read and so stays as it is, in the order of the text: in the lines of concern, and in those whose
 * first word is none. `becomes` names the chart that comes of the change: `moved`.
 */
export function unreadNotes(
  { lines, starts }: Tree,
  becomes: string,
  isOfConcern: (statement: Statement) => boolean = () => true,
): readonly EditNote[] {
  return lines.flatMap(({ problems, statement, text }, i) =>
    problems.length === 0 || (statement.kind !== "unread" && !isOfConcern(statement))
      ? []
      : problems.filter(isUnread).map(({ span }) => ({
          message: `“${clip(sliceOf(text, span))}” can't be read, so it stays as it is. Mend it before you rely on the ${becomes} chart.`,
          span: shift(span, starts[i] as number),
        })),
  );
}
