import { clip } from "../clip.js";
import type { Entry } from "../entry.js";

export const entry: Entry<{ wrote: string; write: string; why: string }> = {
  severity: "warning",
  summary: "A note has the right key on the keyboard and the wrong name for its chord or key.",
  message: ({ wrote, write, why }) => `${clip(wrote)}: ${why}. Write ${clip(write)}.`,
  explanation: `The chart is played as it is written, but a reader stumbles over the name.

A letter may be spelled against its chord or key: a D♯ over A♭ is the same key on the keyboard as E♭, but E♭ is the
fifth of that chord and D♯ is not a tone of it at all. When the chart is moved, a wrong name becomes a stranger one.

A chord may also mix the two ways of writing: \`1/B\` has a number for its root and a letter for its bass. Both are
read. Take the same kind for both, \`1/7\` or \`C/B\`, and one glance tells what to play.
`,
  example: `key C major

section Verse
chords | 1/B |
`,
};
