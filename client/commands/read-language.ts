import { Uri } from "vscode";
import { openPage } from "../open-page.js";
import type { Command } from "./command.js";

/** Opens the language reference for players. */
export const readLanguage: Command = {
  name: "plagal.readLanguage",
  async run({ context }) {
    await openPage(Uri.joinPath(context.extensionUri, "grammar", "LANGUAGE.md"));
  },
};
