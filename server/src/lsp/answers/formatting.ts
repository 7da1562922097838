import type {
  CancellationToken,
  DocumentFormattingParams,
  DocumentRangeFormattingParams,
  DocumentRangesFormattingParams,
  TextEdit,
} from "vscode-languageserver";
import { formatRange } from "../../features/format-range.js";
import type { Edit } from "../../text/edits.js";
import { fromDocument, fromRange } from "../from-protocol.js";
import type { Session } from "../session.js";
import { toTextEdits } from "../to-protocol.js";

type Edits = Promise<TextEdit[] | undefined>;

export const wholeChart = (
  session: Session,
  params: DocumentFormattingParams,
  token: CancellationToken,
): Edits =>
  session.ask(fromDocument(params), token, ({ document }) =>
    toTextEdits(document.tree.starts, formatRange(document, { start: 0, end: document.text.length })),
  );

export const oneRange = (
  session: Session,
  params: DocumentRangeFormattingParams,
  token: CancellationToken,
): Edits =>
  session.ask(fromDocument(params), token, ({ document }) =>
    toTextEdits(document.tree.starts, formatRange(document, fromRange(document.tree, params.range))),
  );

/** Ranges that touch the same system give its edits once. */
export const severalRanges = (
  session: Session,
  params: DocumentRangesFormattingParams,
  token: CancellationToken,
): Edits =>
  session.ask(fromDocument(params), token, ({ document }) => {
    const edits = new Map<string, Edit>();
    for (const range of Array.isArray(params.ranges) ? params.ranges : [])
      for (const edit of formatRange(document, fromRange(document.tree, range)))
        edits.set(`${edit.span.start} ${edit.span.end}`, edit);
    return toTextEdits(document.tree.starts, [...edits.values()]);
  });
