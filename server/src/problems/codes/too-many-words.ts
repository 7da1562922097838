import type { Entry } from "../entry.js";

export const entry: Entry<{ words: number; notes: number }> = {
  severity: "info",
  summary: "A bar has more syllables than the melody has notes.",
  message: ({ words, notes }) =>
    notes === 0
      ? "The lead has no note here to sing this on. Write one, or move the words to where they are sung."
      : `${words} syllables stand under ${notes === 1 ? "1 note" : `${notes} notes`} of the lead, so these have none. Write more notes, or join syllables.`,
  explanation: `In each bar the syllables go to the notes of the lead, one after the other. Here are more syllables than
notes, so the last ones have none to be sung on.

- A \`-\` parts a word into syllables: \`Har-bour\` takes two notes. Without it a word takes one.
- A \`_\` takes up a note too: the syllable before it runs on.
- A note that is held over from the bar before isn't struck again and takes no syllable.
- Words for the lead's pickup stand before the first bar line.

If a bar line has been forgotten, all words after it stand a bar too early.
`,
  example: `key C major

section Verse
lead  | 1 2 3 5   |
words | out on a har-bour |
`,
};
