import { commands } from "vscode";
import { activeChart } from "../active-chart.js";
import type { Command } from "./command.js";

/** Applies every fix that changes no sounding note, such as `6:7` for `67`. */
export const fixAll: Command = {
  name: "plagal.fixAll",
  async run() {
    if (activeChart() === undefined) return;
    await commands.executeCommand("editor.action.codeAction", {
      kind: "source.fixAll.plagal",
      apply: "first",
    });
  },
};
