import type {
  CancellationToken,
  SemanticTokens,
  SemanticTokensDelta,
  SemanticTokensDeltaParams,
  SemanticTokensParams,
  SemanticTokensRangeParams,
} from "vscode-languageserver";
import type { Document } from "../../document/document.js";
import {
  type SemanticToken,
  semanticTokens,
  type TokenModifier,
  type TokenType,
  tokenModifiers,
  tokenTypes,
} from "../../features/semantic-tokens.js";
import { fromDocument, fromRange } from "../from-protocol.js";
import type { OpenChart, Session } from "../session.js";
import { tokensDelta } from "../tokens-delta.js";

const typeNumber = Object.fromEntries(tokenTypes.map((type, i) => [type, i])) as Record<TokenType, number>;
const modifierBit = Object.fromEntries(tokenModifiers.map((it, i) => [it, 1 << i])) as Record<
  TokenModifier,
  number
>;

/** Each token as five numbers, its place counted from the token before (LSP 3.18, `SemanticTokens`). */
function numbersOf(tokens: readonly SemanticToken[], { tree: { starts } }: Document): number[] {
  const data = new Array<number>(tokens.length * 5);
  let [line, lineBefore, columnBefore, at] = [0, 0, 0, 0];
  for (const { span, type, modifiers } of tokens) {
    while ((starts[line + 1] ?? Number.POSITIVE_INFINITY) <= span.start) line++;
    const column = span.start - (starts[line] as number);
    data[at++] = line - lineBefore;
    data[at++] = line === lineBefore ? column - columnBefore : column;
    data[at++] = span.end - span.start;
    data[at++] = typeNumber[type];
    data[at++] = modifiers.reduce((bits, it) => bits | modifierBit[it], 0);
    [lineBefore, columnBefore] = [line, column];
  }
  return data;
}

/** What the client was given last of each chart. */
const given = new WeakMap<OpenChart, { readonly id: string; readonly data: readonly number[] }>();
let count = 0;

function give(chart: OpenChart, document: Document): { readonly id: string; readonly data: number[] } {
  const fresh = { id: `${++count}`, data: numbersOf(semanticTokens(document), document) };
  given.set(chart, fresh);
  return fresh;
}

export const allTokens = (
  session: Session,
  params: SemanticTokensParams,
  token: CancellationToken,
): Promise<SemanticTokens | undefined> =>
  session.ask(
    fromDocument(params),
    token,
    ({ chart, document }) => {
      const { id, data } = give(chart, document);
      return { resultId: id, data };
    },
    "patient",
  );

export const changedTokens = (
  session: Session,
  params: SemanticTokensDeltaParams,
  token: CancellationToken,
): Promise<SemanticTokens | SemanticTokensDelta | undefined> =>
  session.ask(
    fromDocument(params),
    token,
    ({ chart, document }) => {
      const before = given.get(chart);
      const { id, data } = give(chart, document);
      return before?.id === params.previousResultId
        ? { resultId: id, edits: tokensDelta(before.data, data) }
        : { resultId: id, data };
    },
    "patient",
  );

export const tokensInRange = (
  session: Session,
  params: SemanticTokensRangeParams,
  token: CancellationToken,
): Promise<SemanticTokens | undefined> =>
  session.ask(fromDocument(params), token, ({ document }) => ({
    data: numbersOf(semanticTokens(document, fromRange(document.tree, params.range)), document),
  }));
