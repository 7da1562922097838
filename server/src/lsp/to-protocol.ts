import type {
  Diagnostic,
  DiagnosticRelatedInformation,
  DiagnosticSeverity,
  MarkupContent,
  Position,
  Range,
  TextEdit,
  WorkspaceEdit,
} from "vscode-languageserver";
import type { HoverText } from "../features/hover-text.js";
import { markdown, plainText } from "../features/markup.js";
import type { Severity } from "../problems/entry.js";
import type { Problem } from "../problems/problem.js";
import { type Edit, sortEdits } from "../text/edits.js";
import { positionAt } from "../text/lines.js";
import type { Span } from "../text/span.js";

/** Where the lines of a text start. */
export type Starts = readonly number[];

export function toPosition(starts: Starts, offset: number): Position {
  const { line, column } = positionAt(starts, offset);
  return { line, character: column };
}

export const toRange = (starts: Starts, { start, end }: Span): Range => ({
  start: toPosition(starts, start),
  end: toPosition(starts, end),
});

/** LSP 3.18, DiagnosticSeverity. */
const severities: Readonly<Record<Exclude<Severity, "off">, DiagnosticSeverity>> = {
  error: 1,
  warning: 2,
  info: 3,
  hint: 4,
};

/** `pages` is the folder of the check pages, with a `/` behind it. */
export function toDiagnostic(
  it: Problem,
  uri: string,
  starts: Starts,
  pages: string | undefined,
): Diagnostic {
  const related = it.related.map(
    ({ span, message }): DiagnosticRelatedInformation => ({
      location: { uri, range: toRange(starts, span) },
      message,
    }),
  );
  return {
    range: toRange(starts, it.span),
    severity: it.severity === "off" ? 4 : severities[it.severity],
    code: it.code,
    ...(pages === undefined ? {} : { codeDescription: { href: `${pages}${it.code}.md` } }),
    source: "plagal",
    message: it.message,
    ...(related.length === 0 ? {} : { relatedInformation: related }),
  };
}

export const toTextEdits = (starts: Starts, edits: readonly Edit[]): TextEdit[] =>
  sortEdits(edits).map(({ span, text }) => ({ range: toRange(starts, span), newText: text }));

/**
 * Where the lines of a text start for edits: the empty line behind a last line end is one too, else what is added at the
 * text's end would be added to the line before.
 */
export const editStarts = ({ text, starts }: { readonly text: string; readonly starts: Starts }): Starts =>
  /[\r\n]$/.test(text) ? [...starts, text.length] : starts;

/** The edits of one chart. */
export interface ChartEdits {
  readonly uri: string;
  /** The version that they were made for; `undefined` for a chart that isn't open. */
  readonly version: number | undefined;
  /** See `editStarts`. */
  readonly starts: Starts;
  readonly edits: readonly Edit[];
}

/** `versioned`: the client takes documents with their versions; else a plain list a chart. */
export function toWorkspaceEdit(charts: readonly ChartEdits[], versioned: boolean): WorkspaceEdit {
  const changed = charts.filter(({ edits }) => edits.length > 0);
  if (!versioned) {
    return {
      changes: Object.fromEntries(changed.map(({ uri, starts, edits }) => [uri, toTextEdits(starts, edits)])),
    };
  }
  return {
    documentChanges: changed.map(({ uri, version, starts, edits }) => ({
      textDocument: { uri, version: version ?? null },
      edits: toTextEdits(starts, edits),
    })),
  };
}

/** As Markdown, or as plain text for a client that shows none. */
export const toMarkup = (text: HoverText, inMarkdown: boolean): MarkupContent =>
  inMarkdown ? { kind: "markdown", value: markdown(text) } : { kind: "plaintext", value: plainText(text) };
