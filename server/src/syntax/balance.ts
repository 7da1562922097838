import type { IToken } from "chevrotain";
import { clip } from "../problems/clip.js";
import { type Problem, problem } from "../problems/problem.js";
import { gluedParentheses } from "./glued-parentheses.js";
import type { Vocabulary } from "./vocabulary.js";

/** What is wrong with a parenthesis that closes nothing. */
export const neverOpened =
  "This “)” has no “(” before it in its bar. Open the group, or take the parenthesis away.";

/** Groups nest so deep and no deeper. */
const mostDepth = 4;

interface Open {
  readonly index: number;
  readonly isTooDeep: boolean;
}

/**
 * The pieces of a row with every parenthesis that can't be read taken out: one that lacks its other half in the bar,
 * and a group deeper than four. For each run of such opening or closing ones stands one stray piece and one problem.
 * Without recursion, so that no text is too deep for it.
 */
export function balance(
  tokens: readonly IToken[],
  types: Vocabulary,
  row: string,
): { tokens: readonly IToken[]; problems: readonly Problem[] } {
  const { groupOpen, groupClose } = types.pieces;
  if (!tokens.some(({ tokenType }) => tokenType === groupOpen || tokenType === groupClose)) {
    return { tokens, problems: [] };
  }
  const faults = faultsOf(tokens, types);
  if (row !== "chords" || faults.unmatched.size === 0) return strays(tokens, faults, types, row);
  const joined = gluedParentheses(tokens, faults.unmatched, types);
  return strays(joined, joined.length === tokens.length ? faults : faultsOf(joined, types), types, row);
}

/** The parentheses that can't be read, by their places among the pieces. */
interface Faults {
  readonly unmatched: ReadonlySet<number>;
  readonly tooDeep: ReadonlySet<number>;
  /** They close a group that is too deep. */
  readonly silent: ReadonlySet<number>;
}

function faultsOf(tokens: readonly IToken[], { pieces }: Vocabulary): Faults {
  const { groupOpen, groupClose, barLine } = pieces;
  const unmatched = new Set<number>();
  const tooDeep = new Set<number>();
  const silent = new Set<number>();
  let open: Open[] = [];
  tokens.forEach((token, index) => {
    if (token.tokenType === groupOpen) {
      open.push({ index, isTooDeep: open.length >= mostDepth });
    } else if (token.tokenType === groupClose) {
      const opening = open.pop();
      if (opening === undefined) unmatched.add(index);
      else if (opening.isTooDeep) {
        tooDeep.add(opening.index);
        silent.add(index);
      }
    } else if (token.tokenType === barLine) {
      for (const { index: at } of open) unmatched.add(at);
      open = [];
    }
  });
  for (const { index } of open) unmatched.add(index);
  return { unmatched, tooDeep, silent };
}

function strays(
  tokens: readonly IToken[],
  { unmatched, tooDeep, silent }: Faults,
  types: Vocabulary,
  row: string,
): { tokens: readonly IToken[]; problems: readonly Problem[] } {
  const { groupOpen } = types.pieces;
  if (unmatched.size === 0 && tooDeep.size === 0) return { tokens, problems: [] };

  const result: IToken[] = [];
  const problems: Problem[] = [];
  for (let index = 0; index < tokens.length; index++) {
    const token = tokens[index] as IToken;
    if (silent.has(index)) continue;
    const bad = unmatched.has(index) ? unmatched : tooDeep.has(index) ? tooDeep : undefined;
    if (bad === undefined) {
      result.push(token);
      continue;
    }
    let last = token;
    while (index + 1 < tokens.length && bad.has(index + 1)) last = tokens[++index] as IToken;
    const span = { start: token.startOffset, end: last.startOffset + last.image.length };
    const isOpen = token.tokenType === groupOpen;
    const advice =
      bad === tooDeep
        ? "Groups go four deep at most. Write the inner ones out, or give them slots of their own."
        : isOpen
          ? "This “(” has no “)” in its bar. Close the group, or take the parenthesis away."
          : neverOpened;
    const read = clip(token.image.repeat(last === token ? 1 : 2));
    problems.push(problem("syntax", span, { read, advice }, { row }));
    result.push({
      image: token.image,
      startOffset: span.start,
      endOffset: span.end,
      tokenType: types.stray,
      tokenTypeIdx: types.stray.tokenTypeIdx as number,
    });
  }
  return { tokens: result, problems };
}
