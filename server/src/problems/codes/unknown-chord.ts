import { clip } from "../clip.js";
import type { Entry } from "../entry.js";

const advice = "A chord is a number (1 to 7) or a letter (C, B♭), then its quality, then a bass after /.";

export const entry: Entry<{ text: string; nearest: readonly string[] }> = {
  severity: "error",
  summary: "A chord can't be read; the nearest known ones are offered.",
  message: ({ text, nearest }) =>
    `“${clip(text)}” is not a chord. ${
      nearest[0] === undefined ? advice : `Did you mean ${nearest.map(clip).join(" or ")}?`
    }`,
  explanation: `A chord is a root, a quality and, where it is needed, a bass after a slash.

- The root is a number of the key, \`1\` to \`7\` with \`b\` or \`#\` before it, or a letter with \`b\` or \`#\` after it.
- The quality is what players write: \`m7\`, \`maj7\`, \`sus\`, \`7b9\`, \`m7b5\`, \`dim\`. After a number, a quality that
  starts with a digit or an accidental has a colon before it: \`5:7\`, \`2:9\`, \`5:b9\`.
- The bass is a number after a number, a letter after a letter: \`1/3\`, \`C/E\`.

What can't be read is left out: no chord sounds there, and nothing is said about the tones above it. Take the
suggestion that you meant, or write the tones that you want into the hands.
`,
  example: `key C major

section Verse
chords | 1:mja7 | 4 |
`,
};
