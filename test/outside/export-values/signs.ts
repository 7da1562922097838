import { elementsOf, harmoniesOf, pictureOf, scoreOf } from "./exported.js";
import type { ExportJudge } from "./outside-value.js";

const chart =
  "key Bb major\nchords | Bb:7b9 | F#:7#9 |\nwords | ka-lo-mi sun |\nlead | 1 2 3 4 | 1 |\nleft | 1 |\nbass | 1 |\n";

const codeOf = (sign: string | undefined): string =>
  sign === undefined ? "none" : `U+${sign.codePointAt(0)?.toString(16).toUpperCase().padStart(4, "0")}`;
/** The text that a chord of the score is printed as. */
const kindText = (i: number): string =>
  /<kind text="([^"]*)"/.exec(harmoniesOf(scoreOf(chart), "above")[i] ?? "")?.[1] ?? "";
const title = (): string => elementsOf(pictureOf(chart, { chords: "letters" }), "title")[0] ?? "";

export const unicodeSigns: ExportJudge = {
  subject: "flat and sharp as characters",
  source: "The Unicode Standard, Miscellaneous Symbols: U+266D music flat sign, U+266F music sharp sign",
  values: [
    { what: "♭ in a score's chord", published: "U+266D", given: () => codeOf(kindText(0)[1]) },
    { what: "♯ in a score's chord", published: "U+266F", given: () => codeOf(kindText(1)[1]) },
    { what: "♭ in a picture's words", published: "U+266D", given: () => codeOf(title()[1]) },
    { what: "♯ in a picture's words", published: "U+266F", given: () => codeOf(title().split(", ")[1]?.[1]) },
  ],
};

export const clefs: ExportJudge = {
  subject: "clefs of a score",
  source:
    "W3C MusicXML 4.0, line: “standard values are 2 for the G sign (treble clef), 4 for the F sign (bass clef)”",
  values: (
    [
      ["lead", 0, "G 2"],
      ["right hand", 1, "G 2"],
      ["left hand", 2, "F 4"],
      ["bass", 3, "F 4"],
    ] as const
  ).map(([staff, i, published]) => ({
    what: staff,
    published,
    given: () => {
      const clef = elementsOf(scoreOf(chart), "clef")[i] ?? "";
      return `${elementsOf(clef, "sign")[0]} ${elementsOf(clef, "line")[0]}`;
    },
  })),
};

export const syllables: ExportJudge = {
  subject: "syllables under the notes",
  source:
    "W3C MusicXML 4.0, syllabic: “single-syllable words, word-beginning syllables, word-ending syllables, and mid-word syllables”",
  values: (
    [
      ["ka-", "begin"],
      ["-lo-", "middle"],
      ["-mi", "end"],
      ["sun", "single"],
    ] as const
  ).map(([syllable, published], i) => ({
    what: syllable,
    published,
    given: () => elementsOf(scoreOf(chart), "syllabic")[i],
  })),
};
