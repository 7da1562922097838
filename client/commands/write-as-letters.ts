import { activeChart } from "../active-chart.js";
import { askAndApply } from "../apply-edit.js";
import type { Command } from "./command.js";

/** Turns the chart's chords and hands into letters; what sounds stays the same. */
export const writeAsLetters: Command = {
  name: "plagal.writeAsLetters",
  async run(session) {
    const editor = activeChart();
    if (editor === undefined) return;
    await askAndApply(session, editor.document, "plagal/rewrite", { to: "letters" }, "Written as letters.");
  },
};
