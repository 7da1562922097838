import type { Entry } from "../entry.js";

export const entry: Entry<{ text: string; nearest: readonly string[] }> = {
  severity: "error",
  message: ({ text, nearest }) =>
    `“${text}” is not a chord.${nearest[0] === undefined ? "" : ` Did you mean ${nearest.join(" or ")}?`}`,
  explanation: "",
  example: "",
};
