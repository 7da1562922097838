import { andList } from "../../text/and-list.js";
import { clip } from "../clip.js";
import type { Entry } from "../entry.js";

export const entry: Entry<{ chord: string; tones: readonly { number: string; note: string }[] }> = {
  severity: "warning",
  summary: "Nobody plays the third, or the seventh, that the chord's symbol promises.",
  message: ({ chord, tones }) => {
    const missing = andList(tones.map(({ number, note }) => `the ${number} (${note})`));
    const it = tones.length === 1 ? "it" : "them";
    return `Nobody plays ${missing} of ${clip(chord)}, which makes it that chord. Add ${it}, or write the chord without ${it}.`;
  },
  explanation: `The third tells major from minor, and the seventh tells what kind of seventh chord it is: with these guide tones two
fingers say the whole chord. Here neither the hands nor the bass play what the symbol promises, for as long as the chord
lasts.

Put the missing tone into the right hand; the fifth can go, and so can the root if the bass has it. If the open sound is
what you want, write it: \`1:5\` or \`Cno3\` for a chord without its third, \`add9\` for one without a seventh.

A chord is judged where the \`right\` row plays something for it; the melody never counts. Where that row rests, nobody
voices the chord, as where there is no such row; and under a pickup of the chords it plays only what its own pickup
has. What is pushed (\`!\`) belongs to the chord that it is pushed to.
`,
  example: `key C major

section Verse
chords | 5:7   |
right  | 5+1+3 |
left   | 1     |
`,
};
