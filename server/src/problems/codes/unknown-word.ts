import { clip } from "../clip.js";
import type { Entry } from "../entry.js";

export const entry: Entry<{ word: string; nearest: readonly string[] }> = {
  severity: "error",
  summary: "A line starts with a word that the language doesn't have.",
  message: ({ word, nearest }) =>
    `“${clip(word)}” is not a word that starts a line. ${
      nearest[0] === undefined
        ? "A line starts with a row (chords, lead, right, left, bass, words, cue), with section, or with a word such as key or time."
        : `Did you mean “${nearest.join("” or “")}”?`
    }`,
  explanation: `Every line starts with a word that says what it is.

- A row: \`chords\`, \`lead\`, \`right\`, \`left\`, \`bass\`, \`words\`, \`cue\`.
- A section and what belongs to it: \`section\`, \`lands\`, \`vamp\`, \`play\`.
- What the chart says of itself: \`title\`, \`by\`, \`note\`, \`key\`, \`time\`, \`tempo\`, \`feel\`, \`reach\`, \`form\`, \`use\`.

The words are written in small letters. A line that starts otherwise is left out, with all that stands on it. To
write something for yourself, put a semicolon before it: \`; ask the drummer\`.
`,
  example: `key C major

section Verse
chrods | 1 | 4 |
`,
};
