import { clip } from "../clip.js";
import type { Entry } from "../entry.js";

export const entry: Entry<{ name: string; nearest: readonly string[] }> = {
  severity: "error",
  summary: "`form` or `play` names a section that isn't there.",
  message: ({ name, nearest: [first] }) =>
    first === undefined
      ? `No section is called “${clip(name)}”. Write its name as its section line has it, or add “section ${clip(name)}”.`
      : `No section is called “${clip(name)}”. Did you mean “${clip(first)}”?`,
  explanation: `A \`form\` or \`play\` line names a section that is nowhere to be found, so it is left out of the playing order.

Names are taken letter by letter, capitals too: \`verse\` is another name than \`Verse\`. A name of several words stands
in quotes, \`form "Last Verse"\`; without them each word counts as a name of its own.

The section may be written in another chart: bring that one in with \`use "lead-ins.plagal"\` above the first section.
`,
  example: `section Verse
chords | 1 | 4 |

form Verse Verce
`,
};
