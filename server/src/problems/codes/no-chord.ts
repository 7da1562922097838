import { clip } from "../clip.js";
import type { Entry } from "../entry.js";

export const entry: Entry<{ tone: string; pushed: boolean }> = {
  severity: "error",
  summary: "A number in a hand has no chord to count from.",
  message: ({ tone, pushed }) =>
    pushed
      ? `“${clip(tone)}” is pushed into the next chord, and no chord follows in this section. Write lands with the degree that the section leads into, or take the ! away.`
      : `“${clip(tone)}” counts from the chord, and no chord sounds here. Write one into the chords row, or write a letter or a number of the key (k5).`,
  explanation: `A number in a hand says which tone of the chord it is, so it needs a chord. Here none sounds: the lines have
no \`chords\` row, nothing has been written in it yet, or \`NC\` has ended the last one. The tone is left out of the sound;
the others of its stack are played.

Write the chord that you hear. Where there is none on purpose, write what the hand plays by itself: a letter (\`G\`), or
a number counted from the key (\`k5\`). To silence only the accompaniment while the numbers go on, write \`r\` into the
chords row in place of \`NC\`.

A pushed stack (\`!\`) counts from the next chord. At the end of a section that is the one on which it lands, so the
section needs a \`lands\` line: \`lands 1\`.
`,
  example: `key C major

section Verse
chords | 1   | NC |
left   | 1+5 | 5  |
`,
};
