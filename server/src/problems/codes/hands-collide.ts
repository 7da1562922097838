import { andList } from "../../text/and-list.js";
import type { Entry } from "../entry.js";
import { type Way, waysWords } from "../hand-words.js";

export const entry: Entry<{
  /** The hand whose slot it stands in: the one that strikes last. */
  hand: "left" | "right";
  /** The keys that both hands need. */
  keys: readonly string[];
  /** The other hand holds them from before. */
  held: boolean;
  ways: readonly Way[];
}> = {
  severity: "error",
  summary: "Both hands need the same key at the same time.",
  message: ({ hand, keys, held, ways }) => {
    const other = hand === "left" ? "right" : "left";
    const what = held
      ? `The ${hand} hand strikes ${andList(keys)} while the ${other} hand still holds ${keys.length === 1 ? "it" : "them"}.`
      : `Both hands need ${andList(keys)} at the same time.`;
    return what + waysWords(ways, `Let one hand have ${keys.length === 1 ? "it" : "them"}`);
  },
  explanation: `Two hands can't use one key at the same time, and it would sound no louder if they did. Here both have it: struck
together, or struck by one hand while the other still holds it down.

Let one hand have the tone. What sounds is the same. If the hands come too near all along, move one of them an octave
away with \`<\` or \`>\`, or give its row another home with \`from\`. A row's tones last until its next slot, so an \`r\` in
time also frees a key.

A lead that somebody else sings, and a bass that somebody else plays, are in nobody's way.
`,
  example: `key C major

section Verse
chords | 1     |
right  | 3+5+1 |
left   | >1+5  |
`,
};
