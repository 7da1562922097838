import type { Line } from "../syntax/tree.js";
import { type StyleName, styles } from "../voicing/styles.js";
import { partComment } from "./line-parts.js";

/** How a row was voiced, as the comment at its end says. */
export interface Voiced {
  readonly style: StyleName;
  /** Whether every slot was to be playable in all twelve keys. */
  readonly everyKey: boolean;
}

const everyKeyWords = ", every key";

/** The comment that ends a row whose slots the search found: `; voiced drop 2`, `; voiced shell, every key`. */
export const voicedComment = ({ style, everyKey }: Voiced): string =>
  `; voiced ${style}${everyKey ? everyKeyWords : ""}`;

const comments: ReadonlyMap<string, Voiced> = new Map(
  styles.flatMap(({ name: style }) =>
    [false, true].map((everyKey): [string, Voiced] => {
      const voiced = { style, everyKey };
      return [voicedComment(voiced), voiced];
    }),
  ),
);

/** How a row says that it was voiced; `undefined` where its slots are the player's own. Spaces don't matter. */
export function voicedRow(line: Line): Voiced | undefined {
  const { comment } = partComment(line);
  return comments.get(
    comment
      .slice(markAt(comment))
      .replace(/^;[ \t]*/, "; ")
      .replace(/[ \t]+/g, " "),
  );
}

/** A comment of a row with what says how it was voiced at its end, in place of what said so before. */
export function withVoiced(comment: string, voiced: Voiced): string {
  const own = comment.slice(0, markAt(comment)).trimEnd();
  return own === "" ? voicedComment(voiced) : `${own}  ${voicedComment(voiced)}`;
}

/** Where the last part of a comment starts that may say so; its length where none does. */
function markAt(comment: string): number {
  const found = /;[ \t]*voiced[ \t][^;]*$/.exec(comment);
  return found?.index ?? comment.length;
}
