import { clip } from "../clip.js";
import type { Entry } from "../entry.js";

const chain = (names: readonly string[]): string => names.map((name) => `“${clip(name)}”`).join(" plays ");

export const entry: Entry<{ names: readonly string[] }> = {
  severity: "error",
  summary: "Sections play each other in a circle.",
  message: ({ names }) => `This would never end: ${chain(names)}. Take one of these play lines away.`,
  explanation: `A section plays itself, at once or by way of another one. Nobody could ever come out of it, so the inner playing is
left out.

If the section should be heard again, say so where it is played: \`form Verse x2\`. If it should go on until somebody
gives a sign, write \`vamp\` inside it. Bars that repeat within a section stand between \`|:\` and \`:|\`.
`,
  example: `section Verse
chords | 1 | 4 |
play Verse
`,
};
