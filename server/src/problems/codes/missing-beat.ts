import type { Entry } from "../entry.js";

export const entry: Entry<{ meter: string; hold: "-" | "/" }> = {
  severity: "hint",
  summary: "Three even slots fill a bar of four beats; perhaps one was forgotten.",
  message: ({ meter, hold }) =>
    `Three slots share a bar of four beats (${meter}), so each lasts a third of it. If a beat is missing, hold one longer: write ${hold} after it.`,
  explanation: `Three slots in a bar of four beats are three even notes over the whole bar, half-note triplets in 4/4. That
is a rhythm of its own, and rare. Far more often one of the three lasts two beats and its hold has been forgotten.

Write \`-\` after the one that lasts longer, in the chords row \`/\`: \`| 1 - 4 5 |\`, \`| 1 / 4 5 |\`. The fixes offer each of
the three places. If you do want three even notes, leave it: the bar is played so.
`,
  example: `key C major

section Verse
chords | 1 4 5 |
`,
};
