import { andList } from "../../text/and-list.js";
import type { Entry } from "../entry.js";

const barsOf = (count: number): string => (count === 1 ? "1 bar" : `${count} bars`);

/** A row with another number of bars than the others, or one whose sign of repetition isn't that of the first row. */
type Facts =
  | {
      readonly kind: "count";
      readonly row: string;
      readonly bars: number;
      /** The rows that have as many bars as most have, and how many that is. */
      readonly others: readonly string[];
      readonly usual: number;
    }
  | { readonly kind: "sign"; readonly sign: string; readonly inFirst: string; readonly firstRow: string };

export const entry: Entry<Facts> = {
  severity: "warning",
  summary: "A row has more or fewer bars than the others of its system.",
  message: (facts) => {
    if (facts.kind === "count") {
      const { row, bars, others, usual } = facts;
      const beside = others.length === 1 ? "row beside it has" : "rows beside it have";
      const counts = `The ${row} row has ${barsOf(bars)} and the ${andList(others)} ${beside} ${usual}.`;
      if (bars < usual) return `${counts} The rest counts as empty: write it, or empty bars.`;
      return `${counts} Look for a bar line too many, or give the other rows ${bars - usual === 1 ? "a bar" : "bars"} more: there they count as empty.`;
    }
    const { sign, inFirst, firstRow } = facts;
    const there = inFirst === "" ? "has no such sign here" : `has “${inFirst}” here`;
    return `“${sign}” has no meaning in this row: repeats and endings are those of the first row, and ${firstRow} ${there}. Write it there, or take it away.`;
  },
  explanation: `Rows that stand together sound together, bar by bar. So all of them have the same number of bars. Plagal goes by what
most rows have, by the chords where as many rows say one as the other, and tells of the row that is different.

A row that stops early counts as empty for the rest: a hand rests there, and in the chords row the last chord goes on.
Often a bar line has been forgotten, and then all that follows it stands a bar too early. Write the missing bars; where
the row is silent, empty ones: \`|   |\`. In a row with a bar more than the others, a bar line may be one too many.

Repeats (\`|:\`, \`:|\`) and endings (\`1.\`, \`2.\`) are written once, in the first row of the lines that stand together,
and hold for all of them. In another row the same sign does no harm, and a different one has no meaning.
`,
  example: `key C major

section Verse
chords | 1     | 4     |
right  | 3+5+1 |
`,
};
