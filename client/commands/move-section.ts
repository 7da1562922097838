import { activeChart } from "../active-chart.js";
import type { Command } from "./command.js";
import { moveTo } from "./move.js";

/** Moves the section around the cursor to a key that the player chooses. */
export const moveSection: Command = {
  name: "plagal.moveSection",
  async run(session) {
    const editor = activeChart();
    if (editor === undefined) return;
    const range = session.client.code2ProtocolConverter.asRange(editor.selection);
    await moveTo(session, editor.document, { range, section: true });
  },
};
