import { elementsOf, harmoniesOf, pictureOf, scoreOf } from "./exported.js";
import type { ExportJudge } from "./outside-value.js";

// traditionalmusic.co.uk, “Commonly Used Chords For Each Key”: thirteen major keys, the triads on their seven tones.
const table = [
  "C Dm Em F G Am Bdim",
  "Db Ebm Fm Gb Ab Bbm Cdim",
  "D Em F#m G A Bm C#dim",
  "Eb Fm Gm Ab Bb Cm Ddim",
  "E F#m G#m A B C#m D#dim",
  "F Gm Am Bb C Dm Edim",
  "F# G#m A#m B C# D#m E#dim",
  "Gb Abm Bbm Cb Db Ebm Fdim",
  "G Am Bm C D Em F#dim",
  "Ab Bbm Cm Db Eb Fm Gdim",
  "A Bm C#m D E F#m G#dim",
  "Bb Cm Dm Eb F Gm Adim",
  "B C#m D#m E F# G#m A#dim",
].map((line) => line.split(" "));
const source = "traditionalmusic.co.uk, chordchart.htm, “Commonly Used Chords For Each Key”";

const chartIn = (tonic: string): string => `key ${tonic} major\nchords | 1 | 2 | 3 | 4 | 5 | 6 | 7 |\n`;
const signs: Readonly<Record<string, string>> = { "-1": "b", "0": "", "1": "#" };
const suffixes: Readonly<Record<string, string>> = { major: "", minor: "m", diminished: "dim" };

/** A chord of a score as the table writes it; the kind in its place where the table has no suffix for it. */
function written(harmony: string): string {
  const kind = elementsOf(harmony, "kind")[0] ?? "";
  const alter = elementsOf(harmony, "root-alter")[0] ?? "0";
  return `${elementsOf(harmony, "root-step")[0]}${signs[alter]}${suffixes[kind] ?? ` ${kind}`}`;
}

const eachChord = (given: (tonic: string, i: number) => string | undefined): ExportJudge["values"] =>
  table.flatMap((chords) =>
    chords.map((chord, i) => ({
      what: `the ${i + 1} of ${chords[0]}`,
      published: chord,
      given: () => given(chords[0] as string, i),
    })),
  );

export const scoreChordsOfKeys: ExportJudge = {
  subject: "root and kind of the chords of each key, in a score",
  source,
  values: eachChord((tonic, i) => written(harmoniesOf(scoreOf(chartIn(tonic)), "above")[i] ?? "")),
};

/** The names of the chords that a picture says in words, in ASCII as in the table. */
const named = (picture: string): readonly string[] =>
  (elementsOf(picture, "title")[0] ?? "")
    .replace(/\.$/, "")
    .replaceAll("♭", "b")
    .replaceAll("♯", "#")
    .split(", ");

export const printedChordsOfKeys: ExportJudge = {
  subject: "the chords of each key in letters, in the words of a picture for the stand",
  source,
  values: eachChord((tonic, i) => named(pictureOf(chartIn(tonic), { chords: "letters" }))[i]),
};

export const numeralsOfKeys: ExportJudge = {
  subject: "the number of each chord of a key, in a score",
  source:
    "W3C MusicXML 4.0, numeral-root: “a positive integer from 1 to 7”, of the seven chords of the table in C; numeral-fifths as fifths",
  values: [
    ...[1, 2, 3, 4, 5, 6, 7].map((number, i) => ({
      what: `the numeral of the ${number}`,
      published: String(number),
      given: () => elementsOf(harmoniesOf(scoreOf(chartIn("C")), "below")[i] ?? "", "numeral-root")[0],
    })),
    ...(
      [
        ["C", 0],
        ["Db", -5],
        ["D", 2],
        ["Eb", -3],
        ["E", 4],
        ["F", -1],
        ["F#", 6],
        ["Gb", -6],
        ["G", 1],
        ["Ab", -4],
        ["A", 3],
        ["Bb", -2],
        ["B", 5],
      ] as const
    ).map(([tonic, fifths]) => ({
      what: `the fifths of a numeral in ${tonic}`,
      published: String(fifths),
      given: () => elementsOf(scoreOf(chartIn(tonic)), "numeral-fifths")[0],
    })),
  ],
};
