import { SnippetString, window, workspace } from "vscode";
import { ask } from "../ask.js";
import type { Command } from "./command.js";

/** Opens a new chart with a first system to fill. */
export const newChart: Command = {
  name: "plagal.newChart",
  async run(session) {
    const { text } = await ask(session, "plagal/newChart", {});
    const document = await workspace.openTextDocument({ language: "plagal", content: "" });
    const editor = await window.showTextDocument(document);
    await editor.insertSnippet(new SnippetString(text));
  },
};
