import { elementsOf, pitchesOf, scoreOf } from "./exported.js";
import type { ExportJudge } from "./outside-value.js";

// The fifteen major scales as primers print them (brendanpauljacobs.com/guitar/majscale.html; rebeccaspianokeys.com,
// “12 major scales”), and the natural minor scales: each from the sixth tone of its relative major
// (pianobible.com/MinorScales.aspx).
const major = [
  "Cb Db Eb Fb Gb Ab Bb",
  "Gb Ab Bb Cb Db Eb F",
  "Db Eb F Gb Ab Bb C",
  "Ab Bb C Db Eb F G",
  "Eb F G Ab Bb C D",
  "Bb C D Eb F G A",
  "F G A Bb C D E",
  "C D E F G A B",
  "G A B C D E F#",
  "D E F# G A B C#",
  "A B C# D E F# G#",
  "E F# G# A B C# D#",
  "B C# D# E F# G# A#",
  "F# G# A# B C# D# E#",
  "C# D# E# F# G# A# B#",
];
const minor = [
  "Ab Bb Cb Db Eb Fb Gb",
  "Eb F Gb Ab Bb Cb Db",
  "Bb C Db Eb F Gb Ab",
  "F G Ab Bb C Db Eb",
  "C D Eb F G Ab Bb",
  "G A Bb C D Eb F",
  "D E F G A Bb C",
  "A B C D E F G",
  "E F# G A B C D",
  "B C# D E F# G A",
  "F# G# A B C# D E",
  "C# D# E F# G# A B",
  "G# A# B C# D# E F#",
  "D# E# F# G# A# B C#",
  "A# B# C# D# E# F# G#",
];

/** `C# ` as a score says it: `C 1`. */
const alters: Readonly<Record<string, number>> = { b: -1, "": 0, "#": 1 };
const inScore = (name: string): string => `${name.charAt(0)} ${alters[name.slice(1)]}`;

const chartOf = (scale: string, mode: string): string =>
  `key ${scale.split(" ")[0]} ${mode}\nlead | 1 2 3 4 | 5 6 7 r |\n`;

const tonesOf = (scales: readonly string[], mode: string): ExportJudge["values"] =>
  scales.flatMap((scale) =>
    scale.split(" ").map((name, i) => ({
      what: `${scale.split(" ")[0]} ${mode}, tone ${i + 1}`,
      published: inScore(name),
      given: () => pitchesOf(scoreOf(chartOf(scale, mode)))[i]?.slice(0, -2),
    })),
  );

export const majorScales: ExportJudge = {
  subject: "step and alter of each tone of the major scales",
  source: "the fifteen major scales of the primers, as brendanpauljacobs.com/guitar/majscale.html lists them",
  values: tonesOf(major, "major"),
};

export const minorScales: ExportJudge = {
  subject: "step and alter of each tone of the natural minor scales",
  source: "each relative major from its sixth tone on (pianobible.com/MinorScales.aspx)",
  values: tonesOf(minor, "minor"),
};

export const signsInScales: ExportJudge = {
  subject: "accidentals that are printed in a scale of the key",
  source: "a key signature holds for its tones throughout (every primer): no sign stands before them",
  values: [...major.map((it) => [it, "major"] as const), ...minor.map((it) => [it, "minor"] as const)].map(
    ([scale, mode]) => ({
      what: `${scale.split(" ")[0]} ${mode}`,
      published: 0,
      given: () => elementsOf(scoreOf(chartOf(scale, mode)), "accidental").length,
    }),
  ),
};
