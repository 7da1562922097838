import type { Entry } from "../entry.js";

export const entry: Entry<{ word: string; nearest: readonly string[] }> = {
  severity: "error",
  message: ({ word, nearest }) =>
    `“${word}” is not a word of a chart.${nearest[0] === undefined ? "" : ` Did you mean “${nearest[0]}”?`}`,
  explanation: "",
  example: "",
};
