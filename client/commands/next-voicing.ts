import { activeChart } from "../active-chart.js";
import { askAndApply } from "../apply-edit.js";
import type { Command } from "./command.js";

/** Puts the next best voicing into the slot at the cursor; what was voiced with it adapts. */
export const nextVoicing: Command = {
  name: "plagal.nextVoicing",
  async run(session) {
    const editor = activeChart();
    if (editor === undefined) return;
    const position = session.client.code2ProtocolConverter.asPosition(editor.selection.active);
    await askAndApply(session, editor.document, "plagal/nextVoicing", { position }, "The next voicing.");
  },
};
