import { type TextDocument, type WorkspaceEdit, window, workspace } from "vscode";
import type { ClientRequests, EditAnswer } from "../server/src/lsp/protocol.js";
import { ask } from "./ask.js";
import type { Session } from "./session.js";

/** The requests that are answered with an edit of one chart. */
type EditRequest =
  | "plagal/move"
  | "plagal/rewrite"
  | "plagal/practise"
  | "plagal/voice"
  | "plagal/nextVoicing"
  | "plagal/revoice"
  | "plagal/setTempo";

/** How often an answer is asked for anew because the chart was changed meanwhile. */
const tries = 3;

/**
 * Asks the server for an edit of one chart and applies it: one edit, one undo. Where the chart was changed before
 * the answer came, it is asked again. What there is to tell is told. Whether something was changed comes back.
 */
export async function askAndApply<Method extends EditRequest>(
  session: Pick<Session, "client">,
  document: TextDocument,
  method: Method,
  params: Omit<ClientRequests[Method]["params"], "textDocument">,
  done: string,
): Promise<boolean> {
  const uri = session.client.code2ProtocolConverter.asUri(document.uri);
  for (let i = 0; i < tries; i++) {
    const { version } = document;
    const asked = { textDocument: { uri }, ...params } as ClientRequests[Method]["params"];
    const answer = await ask(session, method, asked);
    if (document.version !== version) continue;
    if (answer.refused !== undefined) {
      void window.showWarningMessage(answer.refused);
      return false;
    }
    const edit = await asEdit(session, answer);
    const changed = edit !== undefined && edit.size > 0 && (await workspace.applyEdit(edit));
    tell(changed ? done : "Nothing to change: the chart is like that already.", answer.notes);
    return changed;
  }
  void window.showWarningMessage("The chart kept changing while it was worked out. Try again when it rests.");
  return false;
}

/** The editor's own form of the answer's edit. */
export async function asEdit(
  session: Pick<Session, "client">,
  { edit }: EditAnswer,
): Promise<WorkspaceEdit | undefined> {
  return edit === undefined ? undefined : await session.client.protocol2CodeConverter.asWorkspaceEdit(edit);
}

/** Notes to the player as a message; without any, a word in the status bar is enough. */
function tell(done: string, notes: readonly string[]): void {
  if (notes.length === 0) window.setStatusBarMessage(done, 5000);
  else void window.showInformationMessage([done, ...notes].join(" "));
}
