import { clip } from "../clip.js";
import type { Entry } from "../entry.js";

export const entry: Entry<{
  sign: "-" | "/" | "_" | "bass";
  /** The tone after a `_`, or the bass alone, as written; "" for the others. */
  text: string;
  /** The key that a `_` doesn't find, as a pitch; "" for the others. */
  pitch: string;
  /** The same tone in other octaves, where it does sound. */
  sounding: readonly string[];
}> = {
  severity: "warning",
  summary: "A `-`, a `/` or a `_` has nothing before it that it could hold.",
  message: ({ sign, text, pitch, sounding }) => {
    switch (sign) {
      case "-":
        return "Nothing stands before this “-” in its row, so there is nothing to hold and it rests. Write the tones, or r.";
      case "/":
        return "No chord stands before this “/” in its section, so there is none to go on with. Write the chord, or NC.";
      case "bass":
        return `“${clip(text)}” is a bass for the chord before it, and none stands before it in its section. Write the chord too: 1${clip(text)}.`;
      case "_":
        return sounding.length === 0
          ? `${pitch} didn't sound in this row just before, so “${clip(text)}” has nothing to hold and is struck. Take the _ away, or hold a tone that sounds.`
          : `${pitch} didn't sound in this row just before, so “${clip(text)}” is struck. ${sounding.join(" and ")} did: write the octave of that one, or take the _ away.`;
    }
  },
  explanation: `A \`-\`, a \`/\` and a \`_\` go on with what stood before them, and here there is nothing of the kind.

- A section starts afresh wherever it is played, so its first slot has nothing before it. Write the tones or the chord
  once more there, or \`r\` for a rest.
- A bass alone, \`/7\`, goes under the chord before it.
- \`_\` holds one tone of a stack while others move. The tone is found by its own number and octave: if exactly that key
  didn't sound just before, it is struck. Often the same tone sounded an octave away, and one \`<\` or \`>\` finds it.

A tone that is struck again isn't wrong by itself. If that is what you want, take the \`_\` away.
`,
  example: `key C major

section Ending
chords | 1              |
left   | 1+5     _>1+5  |
`,
};
