import { type Uri, workspace } from "vscode";
import { askAndApply } from "./apply-edit.js";
import type { Session } from "./session.js";

/** Writes a tempo, in beats a minute, into the `tempo` line of a chart. */
export async function writeTempo(session: Pick<Session, "client">, uri: Uri, tempo: number): Promise<void> {
  const document = await workspace.openTextDocument(uri);
  await askAndApply(session, document, "plagal/setTempo", { tempo }, `The tempo is ${tempo} now.`);
}
