import type { ChartCheck } from "./check.js";

/** A `use` line whose chart can't be had. */
export const missingFile: ChartCheck<"missing-file"> = {
  code: "missing-file",
  run({ uses }, report) {
    for (const { path, span, found } of uses) {
      if (found !== "chart") report(span, { path, why: found });
    }
  },
};
