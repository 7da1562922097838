import { window } from "vscode";
import { activeChart } from "../active-chart.js";
import { ask } from "../ask.js";
import { writeTempo } from "../write-tempo.js";
import type { Command } from "./command.js";

const isTempo = (typed: string): boolean => /^[1-9]\d{0,2}$/.test(typed.trim());

/** Asks for the tempo and writes the chart's `tempo` line. */
export const setTempo: Command = {
  name: "plagal.setTempo",
  async run(session) {
    const document = activeChart()?.document;
    if (document === undefined) return;
    const uri = session.client.code2ProtocolConverter.asUri(document.uri);
    const { tempo } = await ask(session, "plagal/status", { textDocument: { uri } });
    const typed = await window.showInputBox({
      title: "Set the tempo",
      prompt: "Beats a minute, 1 to 999. The page beside the text lets you tap it.",
      value: tempo,
      validateInput: (value) =>
        isTempo(value) ? undefined : "Write a whole number of beats a minute, 1 to 999.",
    });
    if (typed !== undefined) await writeTempo(session, document.uri, Number(typed.trim()));
  },
};
