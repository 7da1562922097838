import { readdirSync } from "node:fs";

/** The sample charts by their paths below `test/charts`, those of the hands too. */
export const sampleCharts: readonly string[] = readdirSync("test/charts", {
  recursive: true,
  encoding: "utf8",
}).filter((name) => name.endsWith(".plagal"));
