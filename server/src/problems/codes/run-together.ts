import { clip } from "../clip.js";
import type { Entry } from "../entry.js";

export const entry: Entry<{ wrote: string; write: string }> = {
  severity: "hint",
  summary: "Two numbers stand side by side without their colon.",
  message: ({ wrote, write }) =>
    `“${clip(wrote)}” is read as ${clip(write)}. Write the colon, so that the two numbers can't be mistaken.`,
  explanation: `Two numbers stand side by side here: the chord's degree in the key and the number of its quality.
\`67\` is a seventh chord on the 6, but on a quick look it may be read as the 6 and then the 7.

The chart is understood, and nothing about the sound changes. With a colon between the two it can be read
at sight: \`6:7\`, \`2:9\`, \`5:b9\`. The fix writes it.
`,
  example: `key C major

section Verse
chords | 67 | 2:9 |
`,
};
