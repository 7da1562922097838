import { ErrorCodes, ResponseError } from "vscode-languageserver";
import type { Document } from "../../document/document.js";
import type { Change } from "../../features/change.js";
import { type Scope, sectionScope, wholeChart } from "../../features/scope.js";
import { fromRange } from "../from-protocol.js";
import type { ClientRequests, EditAnswer, Place } from "../protocol.js";
import type { Session } from "../session.js";
import { editStarts, toWorkspaceEdit } from "../to-protocol.js";

export type Params<M extends keyof ClientRequests> = ClientRequests[M]["params"];
export type Result<M extends keyof ClientRequests> = Promise<ClientRequests[M]["result"]>;

export const invalid = (what: string): ResponseError<void> =>
  new ResponseError(ErrorCodes.InvalidParams, what);
export const notOpen: EditAnswer = { notes: [], refused: "Open the chart first." };

/** The range that a place names; a cursor alone means the whole chart. */
export function scopeOf(document: Document, { range, section }: Place): Scope {
  if (range === undefined || range === null) return wholeChart;
  const span = fromRange(document.tree, range);
  if (section === true) return sectionScope(document, span.start) ?? wholeChart;
  return span.end > span.start ? { kind: "selection", span } : wholeChart;
}

/** A change as the client applies it: one edit of one chart. */
export function answerOf(session: Session, document: Document, change: Change): EditAnswer {
  if ("refused" in change) return { notes: [], refused: change.refused };
  const { edits, notes } = change;
  if (edits.length === 0) return { notes };
  const chart = { ...session.identify(document.path), starts: editStarts(document.tree), edits };
  return { edit: toWorkspaceEdit([chart], session.client.versionedEdits), notes };
}
