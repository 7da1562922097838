import { clip } from "../clip.js";
import type { Entry } from "../entry.js";

const advice = "A tone is a number (1, b3, 9) or a letter (C, F♯4); + joins several, - holds and r rests.";

export const entry: Entry<{ text: string; nearest: readonly string[] }> = {
  severity: "error",
  summary: "A tone can't be read; the nearest known ones are offered.",
  message: ({ text, nearest }) =>
    `“${clip(text)}” is not a tone. ${
      nearest[0] === undefined ? advice : `Did you mean ${nearest.map(clip).join(" or ")}?`
    }`,
  explanation: `A slot of a hand, of the lead or of the bass holds one tone, or several joined by \`+\`.

- A number: \`0\` (the chord's bass), \`1\` to \`11\` and \`13\`, with \`b\` or \`#\` before it. \`12\` is the \`5\` an octave up:
  write \`>5\`, or \`5\` where it stands above another tone.
- A letter: a capital, with \`b\` or \`#\` after it, and an octave where the pitch is exact: \`Ab\`, \`F#4\`.
- Signs stand before the tone: \`>\` and \`<\` for an octave, \`_\` to hold it, \`k\` and \`c\` for where it is counted from.

What can't be read is left out of the sound; the rest of the bar is played.
`,
  example: `key C major

section Verse
chords | 1   |
right  | 12  |
`,
};
