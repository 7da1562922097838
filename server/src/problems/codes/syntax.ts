import type { Entry } from "../entry.js";

export const entry: Entry<{ read: string; advice: string }> = {
  severity: "error",
  message: ({ advice }) => advice,
  explanation: "",
  example: "",
};
