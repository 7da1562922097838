import type { Entry } from "../entry.js";

export const entry: Entry<{ sign: "-" | "_" | "/" | "!"; first: string; again: string }> = {
  severity: "warning",
  summary: "The start or end of a repeat means other tones each time it comes round.",
  message: ({ sign, first, again }) => {
    const what = sign === "!" ? "is pushed into" : sign === "/" ? "goes on with" : "holds";
    return sign === "!"
      ? `This “!” ${what} ${first} when the repeat goes back and ${again} when it is over. Write endings (1. and 2.), or take the ! away.`
      : `This “${sign}” ${what} ${first} the first time and ${again} when the repeat comes back. Write it out here, or write endings (1. and 2.).`;
  },
  explanation: `The start of a repeat is reached from two sides: from what stands before it, and from its own end. What is
held into it, or pushed into it from the end, may then be different each time.

A chart is read in the order in which it is written, so the first meaning is the one that is shown and judged. In
playing, the second time would surprise. Write the chord or the tones anew at the start of the repeat. Or write a first
and a second ending, so that each way has its own bar:

\`| 1 |: 4 | 1. 5 :| 2. 1 ||\`
`,
  example: `key C major

section Verse
chords | 1 |: / | 4 :|
`,
};
