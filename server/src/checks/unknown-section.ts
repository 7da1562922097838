import type { ChartCheck } from "./check.js";
import { unknownNames } from "./unknown-names.js";

/** A name in `form` or `play` that no section has. */
export const unknownSection: ChartCheck<"unknown-section"> = {
  code: "unknown-section",
  run(chart, report) {
    // It may stand in the chart that can't be had.
    if (chart.uses.some(({ found }) => found !== "chart")) return;
    for (const { span, name, meant, fixes } of unknownNames(chart)) {
      report(span, { name, nearest: meant }, { fixes });
    }
  },
};
