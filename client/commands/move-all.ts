import { type CancellationToken, type Progress, ProgressLocation, window, workspace } from "vscode";
import { asEdit } from "../apply-edit.js";
import { ask } from "../ask.js";
import { chartsOf } from "../chart-files.js";
import { allKeys } from "../key-typing.js";
import { pickKey } from "../pick-key.js";
import type { Session } from "../session.js";
import type { Command } from "./command.js";

/** Moves every chart of the workspace to one key: asked once, with progress, and one undo a chart. */
export const moveAll: Command = {
  name: "plagal.moveAll",
  async run(session) {
    const charts = await chartsOf(workspace.workspaceFolders ?? []);
    if (charts.length === 0) {
      void window.showInformationMessage("There are no charts in this folder. Open a folder that has some.");
      return;
    }
    const key = await pickKey("Move all charts to one key", allKeys);
    if (key === undefined) return;
    const go = charts.length === 1 ? "Move 1 Chart" : `Move ${charts.length} Charts`;
    const detail = "Each chart keeps its mode and can be moved back by itself: one undo a chart.";
    const answer = await window.showWarningMessage(
      `Move every chart of this folder to ${key}?`,
      { modal: true, detail },
      go,
    );
    if (answer !== go) return;
    await window.withProgress(
      { location: ProgressLocation.Notification, title: `Moving charts to ${key}`, cancellable: true },
      (progress, token) => moveEach(session, key, progress, token),
    );
  },
};

async function moveEach(
  session: Session,
  key: string,
  progress: Progress<{ message?: string; increment?: number }>,
  token: CancellationToken,
): Promise<void> {
  const { charts } = await ask(session, "plagal/moveAll", { key }, token);
  const notes: string[] = [];
  let moved = 0;
  for (const chart of charts) {
    if (token.isCancellationRequested) break;
    const uri = session.client.protocol2CodeConverter.asUri(chart.uri);
    const name = workspace.asRelativePath(uri);
    progress.report({ message: name, increment: 100 / charts.length });
    notes.push(
      ...[...chart.notes, ...(chart.refused === undefined ? [] : [chart.refused])].map(
        (it) => `${name}: ${it}`,
      ),
    );
    const edit = await asEdit(session, chart);
    if (edit === undefined || edit.size === 0) continue;
    // Each by itself, so that each has its own undo; a refactoring is saved where the player's settings say so.
    if (await workspace.applyEdit(edit, { isRefactoring: true })) moved++;
  }
  const stopped = token.isCancellationRequested ? " Stopped there." : "";
  const done = `${moved} of ${charts.length} charts moved to ${key}.${stopped}`;
  if (notes.length === 0) window.setStatusBarMessage(done, 5000);
  else await sayWithNotes(session, done, notes);
}

/** Many notes don't fit into a message: they go to the log, one click away. */
async function sayWithNotes(session: Session, done: string, notes: readonly string[]): Promise<void> {
  for (const note of notes) session.client.outputChannel.info(note);
  const show = "Show Them";
  const count = notes.length === 1 ? "There is 1 remark." : `There are ${notes.length} remarks.`;
  void window.showInformationMessage(`${done} ${count}`, show).then((chosen) => {
    if (chosen === show) session.client.outputChannel.show();
  });
}
