import { andList } from "../../text/and-list.js";
import type { Entry } from "../entry.js";

export const entry: Entry<{
  lower: string;
  upper: string;
  interval: string;
  limit: string;
  keys: readonly string[];
  /** What makes the stack clear within the hand's reach. */
  advice: "open" | "raise" | "drop";
  /** How many tones sound together. */
  tones: number;
}> = {
  severity: "warning",
  summary: "Two tones lie so low and so close that they sound muddy.",
  message: ({ lower, upper, interval, limit, keys, advice, tones }) => {
    const advices = {
      open: `move ${upper} up an octave`,
      raise: tones === 2 ? "move both up an octave" : "move the whole stack up an octave",
      drop: `leave ${upper} out`,
    };
    const where = keys.length === 0 ? "" : ` when played in ${andList(keys)}`;
    return `${lower} and ${upper} lie too low to be clear${where}. Keep ${interval} from ${limit} up, or ${advices[advice]}.`;
  },
  explanation: `Low down, close tones blur: a third that sings in the middle of the keyboard growls two octaves below. Arrangers go by a
table that gives for each interval the lowest note on which it is still clear. A fifth may go down to B♭1, a major third
to B♭2, a minor third to C3, a whole step to E♭3. The octave has no limit. (G. Lindsay, Jazz Arranging Techniques; R.
Lowell and K. Pullig, Arranging for Large Jazz Ensemble.)

Open the voicing: root and fifth, root and tenth, an octave; or play the root alone and leave the third to the right
hand. What Plagal offers lies within your reach: that of the chart's \`reach\` line, a ninth where nobody says.

It is a guide and no law. A dark colour that you mean may stay. Where the form plays the section lower, in another key,
the message says so.
`,
  example: `key C major

section Verse
left | C2+E2 |
`,
};
