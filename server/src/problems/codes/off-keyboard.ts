import { andList } from "../../text/and-list.js";
import type { Entry } from "../entry.js";

export const entry: Entry<{
  note: string;
  side: "below" | "above";
  /** How many octaves it takes to come back. */
  octaves: number;
  keys: readonly string[];
}> = {
  severity: "error",
  summary: "A tone lies beyond the 88 keys of a piano.",
  message: ({ note, side, octaves, keys }) => {
    const where = keys.length === 0 ? "" : ` when it is played in ${andList(keys)}`;
    const end = side === "below" ? "lowest key, A0" : "highest, C8";
    const move = side === "below" ? "up" : "down";
    const far = octaves === 1 ? "an octave" : `${octaves} octaves`;
    return `${note} lies off the keyboard${where}: ${side} its ${end}. Move it ${move} ${far}.`;
  },
  explanation: `A piano has 88 keys, from A0 to C8. Here a tone lies beyond them, so no hand can play it.

Most often it is one \`<\` or \`>\` too many, or a \`from\` that stands an octave out. Where the form plays a section in
another key, the tone may lie on the keyboard as it is printed and off it there; then the message names the key.
`,
  example: `key C major

section Verse
left | <<<k1 |
`,
};
