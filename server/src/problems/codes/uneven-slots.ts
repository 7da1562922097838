import type { Entry } from "../entry.js";

export const entry: Entry<{ slots: number; share: string; hold: "-" | "/"; tooShort: boolean }> = {
  severity: "warning",
  summary: "A bar's slots give no plain note values and no triplets.",
  message: ({ slots, share, hold, tooShort }) =>
    tooShort
      ? "These slots are too short to be played, so the bar counts as empty. Write fewer of them."
      : `${slots} slots share ${share}, and that gives no plain notes and no triplets. Hold one longer (${hold}), or put two into one slot with ( ).`,
  explanation: `The slots of a bar share its time evenly. Two in 4/4 are half notes, four are quarters, eight are eighths,
six are triplets. Five or seven are nothing that a player counts, and most often one is too many or a hold is missing.

- To hold one longer, write \`-\` after it, in the chords row \`/\`.
- To put several into the time of one, write them in parentheses: \`| 1 2 3 (4 5) |\` is three quarters and two eighths.
- A single slot fills its bar, whatever the meter is.

The bar is played as it stands, with all its slots equally long, so leave it where you do want five in the time of four.
`,
  example: `key C major

section Verse
lead | 1 2 3 4 5 |
`,
};
