import type { Code } from "./catalogue.js";
import type { Problem } from "./problem.js";

/** The codes of what the parser can't read. */
const unreadCodes: ReadonlySet<Code> = new Set<Code>([
  "syntax",
  "unknown-word",
  "unknown-chord",
  "unknown-tone",
]);

/** Whether a problem says that its text can't be read, so that nothing hangs on it. */
export const isUnread = ({ code, severity }: Problem): boolean =>
  severity === "error" && unreadCodes.has(code);
