import type { Entry } from "../entry.js";

const parts = { melody: "The melody", top: "The top of the right hand", hand: "The right hand" };

export const entry: Entry<{
  /** What leaps: the melody, the right hand's top, or the hand from a single tone to a stack or back. */
  part: keyof typeof parts;
  from: string;
  to: string;
  nearer: string;
  sign: "<" | ">";
}> = {
  severity: "hint",
  summary: "A line leaps a sixth or more, and the same tone lay nearer an octave away.",
  message: ({ part, from, to, nearer, sign }) =>
    `${parts[part]} leaps from ${from} to ${to}, and ${nearer} lies nearer. Put ${sign} before it if you mean that one.`,
  explanation: `Every row has its home octave, twelve keys wide, and a number without a sign sounds inside it. Where a line crosses the
edge, its next tone comes out at the other end: a leap of a sixth or more, where the same tone lay close by.

One \`<\` puts a tone an octave lower, one \`>\` an octave higher. A tone that has a sign already is taken as you wrote
it; a big leap that you do mean is nothing wrong, and this is only a hint. Nor is a sixth up into a bar from a pickup,
or from an upbeat after a rest, that has a sign itself (\`<5 | 3\`).

In the right hand tops are compared. A single tone and a stack are no line: between them the tones that lie nearest
count, and a hand that rocks between the two and stays near its last single tone and its last stack doesn't leap.

If a whole row keeps crossing the edge, move its home octave: \`lead from G3\`.
`,
  example: `key C major

section Verse
lead | 1 7 |
`,
};
