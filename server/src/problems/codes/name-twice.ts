import { clip } from "../clip.js";
import type { Entry } from "../entry.js";

/** A second header line, a second section of one name, or names that another chart has brought in already. */
type Facts =
  | { readonly kind: "line"; readonly word: string; readonly inSection: boolean }
  | { readonly kind: "section"; readonly name: string }
  | { readonly kind: "use"; readonly path: string; readonly names: readonly string[] };

export const entry: Entry<Facts> = {
  severity: "warning",
  summary: "Two sections have one name, or the head has two `key` lines.",
  message: (facts) => {
    switch (facts.kind) {
      case "line":
        return facts.inSection
          ? `This is the second ${facts.word} line of the chart, and the first one counts. Take one away, or put this one into the section that it is for.`
          : `This is the second ${facts.word} line of the chart, and the first one counts. Take one of them away.`;
      case "section":
        return `A section “${clip(facts.name)}” stands above already, and that one is played wherever the name stands. Give this one another name.`;
      case "use": {
        const names = facts.names.map((name) => `“${clip(name)}”`).join(", ");
        const one = facts.names.length === 1;
        return `“${clip(facts.path)}” brings in ${names}, which another use line above brings in already. The first ${one ? "one counts" : "ones count"}: give ${one ? "it" : "them"} another name in one of the two charts.`;
      }
    }
  },
  explanation: `A name or a statement stands here for the second time, and only the first one counts.

- A chart has one title, one key, one meter, one tempo, one feel. A key, meter, tempo or feel that comes later in the
  song stands inside the section where it starts.
- Two sections of one name: wherever the name is played, the first of them is meant. Number them: \`Verse 1\`, \`Verse 2\`.
- Two \`use\` lines that bring in the same name: the one further up counts. A section of that name written in the chart
  itself wins over both, and then there is nothing to say.
`,
  example: `key C major
key G major

section Verse
chords | 1 | 4 |
`,
};
