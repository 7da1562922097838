import { clip } from "../clip.js";
import type { Entry } from "../entry.js";

export const entry: Entry<{ path: string; why: "missing" | "outside" | "unreadable" | "itself" }> = {
  severity: "error",
  summary: "The file of a `use` line isn't there or can't be read.",
  message: ({ path, why }) => {
    const chart = `“${clip(path)}”`;
    switch (why) {
      case "missing":
        return `There is no chart ${chart}. The path counts from the folder of this chart; mend it, or take the line away.`;
      case "outside":
        return `${chart} lies outside this workspace, and no chart is read from there. Copy it in beside this one.`;
      case "unreadable":
        return `${chart} can't be read as a chart. It must be a text file in UTF-8.`;
      case "itself":
        return `${chart} is this chart itself: its sections are here already. Name another chart, or take the line away.`;
    }
  },
  explanation: `A \`use\` line brings in the sections of another chart, such as a page of lead-ins that fit many songs. Here that chart
can't be had, so its names are unknown.

The path stands in quotes and counts from the folder in which this chart lies: \`use "lead-ins.plagal"\`, or
\`use "shared/lead-ins.plagal"\`. For safety only charts of the same workspace are read.

Two charts that use each other are fine.
`,
  example: `use "no-such-chart.plagal"

section Verse
chords | 1 | 4 |
`,
};
