import {
  type CancellationToken,
  LSPErrorCodes,
  type PrepareRenameParams,
  type PrepareRenameResult,
  type RenameParams,
  ResponseError,
  type WorkspaceEdit,
} from "vscode-languageserver";
import { prepareRename, rename } from "../../features/rename.js";
import { fromDocument, fromPosition } from "../from-protocol.js";
import type { Session } from "../session.js";
import { type ChartEdits, editStarts, toRange, toWorkspaceEdit } from "../to-protocol.js";

/** The reason is shown to the player. */
const refuse = (reason: string): ResponseError<void> =>
  new ResponseError(LSPErrorCodes.RequestFailed, reason);

export const renamePlace = (
  session: Session,
  params: PrepareRenameParams,
  token: CancellationToken,
): Promise<PrepareRenameResult | undefined> =>
  session.ask(fromDocument(params), token, async ({ document }) => {
    const charts = await session.charts();
    const place = prepareRename(document, fromPosition(document.tree, params.position), charts);
    if ("refused" in place) throw refuse(place.refused);
    return { range: toRange(document.tree.starts, place.span), placeholder: place.placeholder };
  });

export const renameSection = (
  session: Session,
  params: RenameParams,
  token: CancellationToken,
): Promise<WorkspaceEdit | undefined> =>
  session.ask(fromDocument(params), token, async ({ document }) => {
    const charts = await session.charts();
    const offset = fromPosition(document.tree, params.position);
    const found = rename(document, offset, `${params.newName}`, charts);
    if ("refused" in found) throw refuse(found.refused);
    const edits = found.flatMap(({ path, edits }): ChartEdits[] => {
      const { tree } = charts.open(path) ?? {};
      return tree === undefined ? [] : [{ ...session.identify(path), starts: editStarts(tree), edits }];
    });
    return toWorkspaceEdit(edits, session.client.versionedEdits);
  });
