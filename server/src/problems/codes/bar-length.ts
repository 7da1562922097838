import type { Entry } from "../entry.js";

export const entry: Entry<{ pickup: number; room: number }> = {
  severity: "error",
  summary: "A pickup is longer than the bar that it leads out of.",
  message: ({ pickup, room }) =>
    `This pickup has ${pickup} beats, and the bar that it covers has room for ${room}. Shorten it, or write a bar of its own for it.`,
  explanation: `What stands before the first bar line of a row is a pickup: each slot is one beat, and it sounds over the
end of the bar that was played before. So it can be as long as that bar and no longer.

Which bar that is depends on where the lines stand. Within a section it is the bar before them. At a section's start it
is the last bar of what the form plays there before it, so one short bar may be too short. Where nothing is played
before, the section's own first bar is the measure.

Put two notes into one beat, \`(4 5)\`, or start with a bar that rests before the notes come:
\`lead | r r 3 | 5 - 3 |\`.
`,
  example: `key C major
time 3/4

section Verse
lead 3 4 5 4 | 5 4 3 | 1 - - |
`,
};
