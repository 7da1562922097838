import { ErrorCodes, ResponseError } from "vscode-languageserver";
import type { Span } from "../text/span.js";

/** The lines of a text, each with its line end, and where they start. */
export interface Lined {
  readonly lines: readonly { readonly text: string }[];
  readonly starts: readonly number[];
}

const invalid = (what: string): ResponseError<void> =>
  new ResponseError(ErrorCodes.InvalidParams, `This is no ${what}.`);

const isCount = (value: unknown): value is number => typeof value === "number" && value >= 0;

/**
 * The offset of a position. As the protocol has it, a column behind the line's end is its end; a line behind the
 * last is the text's end. Throws a refusal for what is no position.
 */
export function fromPosition({ lines, starts }: Lined, position: unknown): number {
  const { line, character } = (position ?? {}) as { readonly line?: unknown; readonly character?: unknown };
  if (!isCount(line) || !isCount(character)) throw invalid("position");
  const found = lines[Math.floor(line)];
  const start = starts[Math.floor(line)];
  if (found === undefined || start === undefined) {
    const last = lines.length - 1;
    return (starts[last] ?? 0) + (lines[last]?.text.length ?? 0);
  }
  return start + Math.min(Math.floor(character), found.text.replace(/(?:\r\n|\n|\r)$/, "").length);
}

export function fromRange(text: Lined, range: unknown): Span {
  const { start, end } = (range ?? {}) as { readonly start?: unknown; readonly end?: unknown };
  const [from, to] = [fromPosition(text, start), fromPosition(text, end)];
  return { start: Math.min(from, to), end: Math.max(from, to) };
}

/** The URI of the chart that a request is about. */
export function fromDocument(params: unknown): string {
  const { textDocument } = (params ?? {}) as { readonly textDocument?: unknown };
  const { uri } = (textDocument ?? {}) as { readonly uri?: unknown };
  if (typeof uri !== "string") throw invalid("chart: `textDocument.uri` is missing");
  return uri;
}
