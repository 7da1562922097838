import type { IToken } from "chevrotain";
import type { Span } from "../text/span.js";
import { readKeyText } from "./key-text.js";
import type { PlayNode } from "./line-parser.js";
import { unquoted } from "./quoted.js";
import type { FormItem, MoveText } from "./tree.js";
import type { Vocabulary } from "./vocabulary.js";

const endOf = (token: IToken): number => token.startOffset + token.image.length;
const spanOf = (token: IToken): Span => ({ start: token.startOffset, end: endOf(token) });

/** An item of `form` or `play`; a second word of the same kind is reported. */
export function readPlayItem(
  node: Extract<PlayNode, { name: IToken }>,
  types: Vocabulary,
  report: (span: Span, advice: string) => void,
  stray?: IToken,
): FormItem {
  const { text: name, span: nameSpan } = unquoted(node.name);
  let times: number | undefined;
  let move: MoveText | undefined;
  if (name === "")
    report(spanOf(node.name), "There is no name between these quotes. Write the section's name.");
  for (const token of node.words) {
    const span = spanOf(token);
    if (token.tokenType === types.pieces.times) {
      const value = Number(token.image.slice(1));
      if (times !== undefined) report(span, "This section already has a count. Keep one of them.");
      else if (value < 1 || value > 99) report(span, "A section is played 1 to 99 times.");
      times ??= value >= 1 && value <= 99 ? value : 1;
      continue;
    }
    if (move !== undefined) {
      report(span, "This section is already moved. Keep one of the two.");
      continue;
    }
    if (token.tokenType === types.pieces.moveBy) {
      const whole = token.image.endsWith("whole") ? 2 : 1;
      move = { kind: "by", halfSteps: token.image.startsWith("up") ? whole : -whole, span };
      continue;
    }
    const key = readKeyText("moveIn", token);
    if (key === undefined) report(span, "“in” is followed by a key: in Db.");
    else move = { kind: "in", ...key, span };
  }
  const start = node.name.startOffset;
  return {
    name,
    nameSpan,
    times: times ?? 1,
    move,
    stray: stray && { word: stray.image, span: spanOf(stray) },
    span: { start, end: endOf(node.words.at(-1) ?? node.name) },
  };
}
