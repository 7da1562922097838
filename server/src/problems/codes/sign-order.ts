import { clip } from "../clip.js";
import type { Entry } from "../entry.js";

export const entry: Entry<{ wrote: string; write: string }> = {
  severity: "hint",
  summary: "The signs before a tone stand in an unusual order.",
  message: ({ wrote, write }) => `“${clip(wrote)}” is usually written ${clip(write)}: it sounds the same.`,
  explanation: `Signs before a tone have a usual order, so that the eye finds each at its place.

For a whole stack come \`!\` (push) and \`~\` (roll). For one tone come \`_\` (hold), then \`<\` or \`>\` (octaves), then
\`k\` or \`c\` (counted from the key or from the chord). Where one tone slips into another, the signs of the second
stand after the \`~\`: \`4~>5\`.

Another order is understood and sounds the same. The fix only puts the signs in their order.
`,
  example: `key C major

section Verse
chords | 1      |
right  | k>3+5  |
`,
};
