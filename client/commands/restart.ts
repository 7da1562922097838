import { window } from "vscode";
import type { Command } from "./command.js";

/** Ends the language server and starts a new one. */
export const restart: Command = {
  name: "plagal.restart",
  async run(session) {
    await session.restart();
    window.setStatusBarMessage("Plagal's language server has been started again.", 5000);
  },
};
