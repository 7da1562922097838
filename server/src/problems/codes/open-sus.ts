import { clip } from "../clip.js";
import type { Entry } from "../entry.js";

export const entry: Entry<{ chord: string; third: string; next: string }> = {
  severity: "off",
  summary: "A suspension never comes home before the chord moves on.",
  message: ({ chord, third, next }) =>
    `${clip(chord)} moves on to ${clip(next)} before its suspension comes down to ${third}. If it should, write the chord without sus before it moves.`,
  explanation: `A suspension holds back the third of its chord. In the older way of writing it comes before the chord moves:
\`5:7sus 5:7 | 1\`. Here it never does.

In much of today's church music a sus chord is a colour of its own and goes straight on; then nothing is wrong. That is
why this check is off unless you ask for it. A suspension at a section's end is left alone, since what follows may
resolve it.
`,
  example: `key C major

section Verse
chords | 5:7sus | 1 |
`,
};
