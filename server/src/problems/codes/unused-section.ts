import { clip } from "../clip.js";
import type { Entry } from "../entry.js";

export const entry: Entry<{ name: string }> = {
  severity: "info",
  summary: "The form never plays this section.",
  message: ({ name }) =>
    name === ""
      ? "The form doesn't play these bars: they belong to no section. Put “section NAME” above them and name it in the form."
      : `The form doesn't play “${clip(name)}”. Name it in the form line, or keep it for another day.`,
  explanation: `The chart has a \`form\` line, and this section is neither named there nor played by another one. So nobody hears it.

That may be just what you want: a second ending that you keep, a lead-in for another Sunday. Then there is nothing to
mend. A chart without a \`form\` line plays all its sections once, as they are written.
`,
  example: `form Verse

section Verse
chords | 1 | 4 |

section Tag
chords | 5 | 1 |
`,
};
