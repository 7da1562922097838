import { type QuickPickItem, window } from "vscode";
import { activeChart } from "../active-chart.js";
import { askAndApply } from "../apply-edit.js";
import type { Command } from "./command.js";

type Order = "fourths" | "half-steps" | "shuffled";

const orders: ReadonlyArray<QuickPickItem & { readonly order: Order }> = [
  { order: "fourths", label: "Round the fourths", description: "each key is a fourth above the one before" },
  { order: "half-steps", label: "By half steps", description: "up a half step each time" },
  { order: "shuffled", label: "Shuffled once", description: "every key once, in an order that stays" },
];

/** Writes the `form` line that plays the chart in twelve keys, in an order that the player chooses. */
export const practise: Command = {
  name: "plagal.practise",
  async run(session) {
    const editor = activeChart();
    if (editor === undefined) return;
    const title = "Practise in twelve keys";
    const chosen = await window.showQuickPick(orders, { title, placeHolder: "In which order?" });
    if (chosen === undefined) return;
    const seed = Math.floor(Math.random() * 2 ** 31);
    const params = { order: chosen.order, seed };
    await askAndApply(
      session,
      editor.document,
      "plagal/practise",
      params,
      "The form goes through twelve keys.",
    );
  },
};
