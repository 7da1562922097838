import type { Entry } from "../entry.js";
import { type Way, waysWords } from "../hand-words.js";

export const entry: Entry<{
  hand: "left" | "right";
  reason: "too-many-keys";
  /** All keys that would have to be held at once. */
  keys: readonly string[];
  count: number;
  most: number;
  ways: readonly Way[];
}> = {
  severity: "error",
  summary: "One hand has more keys to hold than it has fingers for.",
  message: ({ hand, count, most, ways }) =>
    `The ${hand} hand would have to hold ${count} keys at once, and a hand holds ${most} at most: five fingers, and the thumb on two neighbours.${waysWords(ways, "Play fewer tones at once")}`,
  explanation: `A hand holds a key with each finger, and the thumb may hold two that lie side by side in one colour: six keys, no more.
What a \`_\` holds over from before counts with what is struck.

Share the tones between the hands. Leave out what is doubled: the root and the fifth go first, the third and the seventh
stay. Or roll the stack with a \`~\`: a roll may have any number of tones, since the hand moves on.

Six keys at once are rare, and a chord of three or four well-chosen tones sounds fuller than it looks. If a full grip
strains your hand, play fewer tones, and stop if it hurts.
`,
  example: `key C major

section Verse
chords | 1             |
left   | 1             |
right  | 1+2+3+4+5+6+7 |
`,
};
