import type { Entry } from "../entry.js";

export const entry: Entry<{ read: string; advice: string }> = {
  severity: "error",
  summary: "A line, a sign or a parenthesis can't be read; the message says what was expected.",
  message: ({ advice }) => advice,
  explanation: `Something stands here that the chart can't be read with: a line without what belongs on it, a parenthesis
without its other half, a sign in a place where it has no meaning. The message says what was expected.

Only that place is left out. The rest of the bar, and all other lines, are read as they stand.

A few places where this happens often:

- A row needs bar lines: \`chords | 1 | 4 |\`.
- \`%\` repeats a whole bar, so it stands alone in its own.
- Endings, \`1.\` and \`2.\`, stand right after a bar line.
- \`!\` and \`~\` stand before tones, not before a rest or a hold.
- \`=\` repeats the tones before it in its bar; \`%\` repeats the bar before it in its section. At the start there is
  nothing to repeat yet.
- \`title\`, \`by\`, \`note\`, \`reach\` and \`use\` stand before the first section, \`form\` there or after the last one.
- Every \`(\` has its \`)\` in the same bar, and groups go four deep at most.
`,
  example: `key C major
tempo quick

section Verse
chords | 1 | 4 |
`,
};
