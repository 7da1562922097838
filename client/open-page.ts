import { commands, type Uri, window, workspace } from "vscode";

/** Shows a Markdown file as a page; as text in an editor that has no pages. */
export async function openPage(page: Uri): Promise<void> {
  try {
    await commands.executeCommand("markdown.showPreview", page);
  } catch {
    await window.showTextDocument(await workspace.openTextDocument(page), { preview: true });
  }
}
