import { window, workspace } from "vscode";
import sample from "../sample/first-light.plagal";
import type { Command } from "./command.js";

/** Opens a sample chart as a new document: nothing is saved unless the player saves it. */
export const openSample: Command = {
  name: "plagal.openSample",
  async run() {
    const document = await workspace.openTextDocument({ language: "plagal", content: sample });
    await window.showTextDocument(document);
  },
};
