import type { Entry } from "../entry.js";

export const entry: Entry<{ row: string; from: string; to: string; nearer: string; sign: "<" | ">" }> = {
  severity: "hint",
  summary: "A line leaps a sixth or more, and the same tone lay nearer an octave away.",
  message: ({ row, from, to, nearer, sign }) =>
    `The ${row === "lead" ? "melody" : "top of the right hand"} leaps from ${from} to ${to}, and ${nearer} lies nearer. Put ${sign} before it if you mean that one.`,
  explanation: `Every row has its home octave, twelve keys wide, and a number without a sign sounds inside it. Where a line crosses the
edge, its next tone comes out at the other end: a leap of a sixth or more, where the same tone lay close by.

One \`<\` puts a tone an octave lower, one \`>\` an octave higher. A tone that has a sign already is taken as you wrote
it; a big leap that you do mean is nothing wrong, and this is only a hint.

If a whole row keeps crossing the edge, move its home octave: \`lead from G3\`.
`,
  example: `key C major

section Verse
lead | 1 7 |
`,
};
