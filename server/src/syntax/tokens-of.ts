import type { IToken } from "chevrotain";
import type { PieceName } from "../../../grammar/tokens.js";
import { cut } from "./cut.js";
import type { Token } from "./tree.js";
import type { Vocabulary } from "./vocabulary.js";

/** A line longer than this is not read: the engines of regular expressions give up on such. */
export const longestLine = 1_000_000;

/** The length of a line without its line end. */
export function bodyLength(line: string): number {
  let end = line.length;
  if (end > 0 && line.charCodeAt(end - 1) === 10) end--;
  if (end > 0 && line.charCodeAt(end - 1) === 13) end--;
  return end;
}

/** Every token of a line in order, from the first character to the last. */
export function tokensOf(line: string, types: Vocabulary): Token[] {
  const tokens: Token[] = [];
  const push = (kind: Token["kind"], start: number, end: number) => {
    if (end > start) tokens.push({ kind, span: { start, end } });
  };
  const end = bodyLength(line);
  if (end > longestLine) push("unread", 0, end);
  else {
    const body = line.slice(0, end);
    let at = 0;
    for (const token of types.lineLexer.tokenize(body).tokens) {
      pushGap(body, at, token.startOffset, push);
      pushPiece(token, types, push);
      at = token.startOffset + token.image.length;
    }
    pushGap(body, at, end, push);
  }
  push("lineEnd", end, line.length);
  return tokens;
}

type Push = (kind: Token["kind"], start: number, end: number) => void;

/** Between two pieces stands white space, and after the last perhaps a comment. */
function pushGap(body: string, from: number, to: number, push: Push): void {
  if (from === to) return;
  let at = from;
  while (at < to && body[at] !== ";") at++;
  push("white", from, at);
  push("comment", at, to);
}

function pushPiece(token: IToken, types: Vocabulary, push: Push): void {
  const { tokenType, startOffset: start, image } = token;
  const word = types.wordTokens.get(tokenType);
  if (word !== undefined) {
    push(word, start, start + image.length);
    return;
  }
  for (const { name, start: at, text } of cut(tokenType.name as PieceName, image)) {
    push(name, start + at, start + at + text.length);
  }
}
