import type { Entry } from "../entry.js";

export const entry: Entry<{ sign: "|:" | "1." }> = {
  severity: "warning",
  summary: "A repeat starts and never goes back.",
  message: ({ sign }) =>
    sign === "|:"
      ? "Nothing goes back to this “|:”, so no bar is repeated. Write :| where the repeat ends, or take the sign away."
      : "This first ending doesn't go back: no “:|” stands before the second one, so both are played in a row. Write :| at its end.",
  explanation: `A repeat has two ends: \`|:\` where it starts and \`:|\` where it goes back. Here the second one is missing, so the bars
are played once and the chart is shorter than you think.

With two endings the \`:|\` stands at the end of the first: \`|: 1 | 4 |1. 5:7 :|2. 5:7 | 1 ||\`. A \`:|\` without a \`|:\` is
no mistake: it goes back to the section's start.
`,
  example: `section Verse
chords |: 1 | 4 |
`,
};
