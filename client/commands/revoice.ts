import { type QuickPickItem, window } from "vscode";
import { activeChart } from "../active-chart.js";
import { askAndApply } from "../apply-edit.js";
import type { Command } from "./command.js";

/** What a hand holds down, in white keys. */
const reaches: ReadonlyArray<QuickPickItem & { readonly reach: number }> = [
  { reach: 8, label: "An octave", description: "reach 8" },
  { reach: 9, label: "A ninth", description: "reach 9, what is taken where nobody says" },
  { reach: 10, label: "A tenth", description: "reach 10" },
  { reach: 7, label: "A seventh", description: "reach 7" },
  { reach: 6, label: "A sixth", description: "reach 6" },
  { reach: 5, label: "A fifth", description: "reach 5" },
];

const whose: ReadonlyArray<QuickPickItem & { readonly hands: readonly ("left" | "right")[] }> = [
  { hands: ["left", "right"], label: "Both hands" },
  { hands: ["left"], label: "The left hand", description: "the right one keeps its reach" },
  { hands: ["right"], label: "The right hand", description: "the left one keeps its reach" },
];

/** Makes the whole chart playable for hands of a reach that the player chooses. */
export const revoice: Command = {
  name: "plagal.revoice",
  async run(session) {
    const editor = activeChart();
    if (editor === undefined) return;
    const title = "Revoice for a smaller hand";
    const chosen = await window.showQuickPick(reaches, {
      title,
      placeHolder: "What does the hand hold with ease? Never stretch to fit a number.",
    });
    if (chosen === undefined) return;
    const hand = await window.showQuickPick(whose, { title, placeHolder: "Which hand?" });
    if (hand === undefined) return;
    const reach = Object.fromEntries(hand.hands.map((it) => [it, chosen.reach]));
    await askAndApply(session, editor.document, "plagal/revoice", { reach }, "Revoiced.");
  },
};
