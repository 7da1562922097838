import { clip } from "../clip.js";
import type { Entry } from "../entry.js";

export const entry: Entry<{
  number: string;
  note: string;
  row: string;
  chord: string;
  /** What the chord has in its place. */
  instead?: { number: string; note: string };
  suspended: boolean;
}> = {
  severity: "warning",
  summary: "A tone in a hand says the opposite of the chord's symbol.",
  message: ({ number, note, row, chord, instead, suspended }) => {
    const has = instead === undefined ? "" : `, which has the ${instead.number} (${instead.note}) there`;
    const play = instead === undefined ? "Leave it out" : `Play the ${instead.number}`;
    const write = suspended ? "without sus" : "as it sounds";
    return `The ${number} (${note}) in the ${row} hand contradicts ${clip(chord)}${has}. ${play}, or write the chord ${write}.`;
  },
  explanation: `The symbol says one thing and the hand plays another. A sus chord waits for its third, and here the third is there
already; a flat five stands in the symbol, and the hand has the natural one. Whoever reads the symbol alone, the bass
player for one, will play against you.

Colour tones are no contradiction: a ninth, a sixth, a #11 over any chord are yours to add. Nor is a tone that is held
over from the chord before: that is a suspension, and so is every tone of the melody.

A bass that walks may pass through any tone. Free is what the left hand strikes alone, as a single tone, in a bar's last
beat or in a pickup, if it sounds up to the bar line and then moves by a half step or a whole step into the bass of the
chord that begins there. Anything else of the walk is told: in the middle of a bar the tone stands against the chord.

Play what the symbol says, or write the symbol that you play.
`,
  example: `key C major

section Verse
chords | 5:7sus |
right  | b7+3+5 |
`,
};
