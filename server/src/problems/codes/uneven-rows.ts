import type { Entry } from "../entry.js";

const barsOf = (count: number): string => (count === 1 ? "1 bar" : `${count} bars`);

/** A row that stops early, or one whose sign of repetition isn't that of the first row. */
type Facts =
  | { readonly kind: "short"; readonly bars: number; readonly longest: number; readonly longestRow: string }
  | { readonly kind: "sign"; readonly sign: string; readonly inFirst: string; readonly firstRow: string };

export const entry: Entry<Facts> = {
  severity: "warning",
  summary: "A row has fewer bars than the others of its system.",
  message: (facts) => {
    if (facts.kind === "short") {
      const { bars, longest, longestRow } = facts;
      return `This row has ${barsOf(bars)} and the ${longestRow} row beside it has ${longest}. The rest counts as empty: write it, or empty bars.`;
    }
    const { sign, inFirst, firstRow } = facts;
    const there = inFirst === "" ? "has no such sign here" : `has “${inFirst}” here`;
    return `“${sign}” has no meaning in this row: repeats and endings are those of the first row, and ${firstRow} ${there}. Write it there, or take it away.`;
  },
  explanation: `Rows that stand together sound together, bar by bar. So all of them have the same number of bars.

A row that stops early counts as empty for the rest: a hand rests there, and in the chords row the last chord goes on.
Often a bar line has been forgotten, and then all that follows it stands a bar too early. Write the missing bars; where
the row is silent, empty ones: \`|   |\`.

Repeats (\`|:\`, \`:|\`) and endings (\`1.\`, \`2.\`) are written once, in the first row of the lines that stand together,
and hold for all of them. In another row the same sign does no harm, and a different one has no meaning.
`,
  example: `key C major

section Verse
chords | 1     | 4     |
right  | 3+5+1 |
`,
};
