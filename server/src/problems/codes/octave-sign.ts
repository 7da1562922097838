import { clip } from "../clip.js";
import type { Entry } from "../entry.js";

export const entry: Entry<{ tone: string; signs: string; why: "exact" | "inside-stack" | "group" }> = {
  severity: "error",
  summary: "A `>` or `<` stands where it can't change anything.",
  message: ({ tone, signs, why }) => {
    switch (why) {
      case "exact":
        return `${clip(tone)} has its octave already, so “${clip(signs)}” doesn't move it. Take the sign away, or write the octave that you mean.`;
      case "inside-stack":
        return `In a stack each tone is the next one up, so “${clip(signs)}” before ${clip(tone)} does nothing. Take it away, or write the lower tone first.`;
      case "group":
        return `${clip(tone)} has its octave already, so the sign before its group doesn't move it. Write the octave that you mean, or the letter without one.`;
    }
  },
  explanation: `\`>\` lifts a tone an octave and \`<\` drops it one, from the octave that its row is at home in. Two kinds of
tones have no such octave, and there a sign changes nothing:

- A letter with its octave, like \`G4\`, is that key and no other. Write \`G5\` in place of \`>G4\`.
- In a stack the lowest tone has its place and each tone after it is the next one up, so none of them can be dropped.
  To have a tone lower, write it before the others. A \`>\` does work there: it skips an octave.

The tones sound as if the sign weren't there, and the fix takes it away.
`,
  example: `key C major

section Verse
lead | 5 >G4 |
`,
};
