import type { Entry } from "../entry.js";
import { type Way, waysWords } from "../hand-words.js";

export const entry: Entry<{
  /** The hand whose slot it stands in: the one that strikes last. */
  hand: "left" | "right";
  /** The highest key of the left hand and the lowest of the right. */
  left: string;
  right: string;
  /** Each hand has keys on both sides of a key of the other. */
  interlocked: boolean;
  ways: readonly Way[];
}> = {
  severity: "warning",
  summary: "The left hand reaches above the right hand's lowest key.",
  message: ({ left, right, interlocked, ways }) =>
    `${
      interlocked
        ? `The hands lie into each other: the left hand reaches up to ${left}, and the right hand down to ${right}, so the fingers of one stand between those of the other.`
        : `The hands cross: the left hand reaches up to ${left}, and the right hand starts at ${right}.`
    }${waysWords(ways, "Keep the left hand below the right")}`,
  explanation: `The left hand's highest key lies above the right hand's lowest. A single tone over the other hand may be meant, and
then let it be: it is a warning and no law. Where each hand has keys on both sides of a key of the other, the fingers
would have to pass through each other, and it is an error.

Mostly the hands can share the same tones anew, the lower ones for the left: nothing sounds different. Or move one hand
an octave away with \`<\` or \`>\`. Playing one hand over the other turns the wrist and takes room: go slowly, and stop if
it hurts.

A lead that somebody else sings, and a bass that somebody else plays, cross nobody.
`,
  example: `key C major

section Verse
chords | 1     |
right  | 5+1+3 |
left   | >6    |
`,
};
