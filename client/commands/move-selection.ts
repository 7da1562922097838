import { window } from "vscode";
import { activeChart } from "../active-chart.js";
import type { Command } from "./command.js";
import { moveTo } from "./move.js";

/** Moves the selected bars to a key that the player chooses. */
export const moveSelection: Command = {
  name: "plagal.moveSelection",
  async run(session) {
    const editor = activeChart();
    if (editor === undefined) return;
    if (editor.selection.isEmpty) {
      void window.showInformationMessage("Select the bars first: the lines that should go to another key.");
      return;
    }
    const range = session.client.code2ProtocolConverter.asRange(editor.selection);
    await moveTo(session, editor.document, { range });
  },
};
