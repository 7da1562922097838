import { clip } from "../clip.js";
import type { Entry } from "../entry.js";

export const entry: Entry<{ wrote: string; write: string; key: string; tone: string }> = {
  severity: "warning",
  summary: "A flat or sharp before a number says what the key has already.",
  message: ({ wrote, write, key, tone }) =>
    `In ${key} the ${write} is ${tone} already, so “${clip(wrote)}” says it twice. Write ${write}.`,
  explanation: `Degrees count along the key's own scale. In minor \`3\`, \`6\` and \`7\` are the low ones by themselves: in C
minor they are E♭, A♭ and B♭. The raised seventh is \`#7\`. In the church modes it is the same: what the mode has needs no
sign.

A sign for what the scale has already changes nothing: \`b7\` sounds as \`7\`. But a reader can't tell whether one step
lower was meant, so write the plain number. The fix takes the sign away and nothing sounds different. If you do mean a
step lower, write one sign more: \`bb7\`.

This is about numbers that count from the key. A number that counts from a chord, \`b3\` in a hand, has its sign in every
key.
`,
  example: `key A minor

section Verse
chords | 1 b7 |
`,
};
