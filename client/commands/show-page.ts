import { activeChart } from "../active-chart.js";
import type { Command } from "./command.js";

/** Opens the page of the chart beside its text. */
export const showPage: Command = {
  name: "plagal.showPage",
  async run({ pages }) {
    const document = activeChart()?.document;
    if (document !== undefined) pages.show(document);
  },
};
