import type { IToken } from "chevrotain";
import type { Vocabulary } from "./vocabulary.js";

const endOf = (token: IToken): number => token.startOffset + token.image.length;

/**
 * The pieces of a chord row where a parenthesis without its other half that is written right against a chord belongs
 * to that chord: `Cm7(b5` and `C7#9)` are one piece each, so that they are told of as one chord. After a comma the
 * chord goes on past the space.
 */
export function gluedParentheses(
  tokens: readonly IToken[],
  unmatched: ReadonlySet<number>,
  { pieces }: Vocabulary,
): readonly IToken[] {
  const isChord = ({ tokenType }: IToken): boolean =>
    tokenType === pieces.chord || tokenType === pieces.noShape || tokenType === pieces.bassAlone;
  const result: IToken[] = [];
  for (let index = 0; index < tokens.length; index++) {
    const token = tokens[index] as IToken;
    const next = tokens[index + 1];
    const isGlued =
      isChord(token) && next !== undefined && unmatched.has(index + 1) && next.startOffset === endOf(token);
    const isSign = next !== undefined && (next.image === "(" || next.image === ")");
    if (!isGlued || !isSign) {
      result.push(token);
      continue;
    }
    let image = token.image;
    let depth = 0;
    while (index + 1 < tokens.length) {
      const part = tokens[index + 1] as IToken;
      const gap = part.startOffset - token.startOffset - image.length;
      if (part.tokenType === pieces.barLine || (gap > 0 && !(image.endsWith(",") && isChord(part)))) break;
      if (!unmatched.has(index + 1)) {
        if (part.tokenType === pieces.groupOpen) depth++;
        // It closes a group that was opened before the chord.
        if (part.tokenType === pieces.groupClose && depth-- === 0) break;
      }
      image += " ".repeat(gap) + part.image;
      index++;
    }
    const tokenType = pieces.noShape;
    result.push({ ...token, image, tokenType, tokenTypeIdx: tokenType.tokenTypeIdx as number });
  }
  return result;
}
