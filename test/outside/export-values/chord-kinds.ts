import { elementsOf, harmoniesOf, scoreOf, strokesOf } from "./exported.js";
import { degreeName, kindWordings, wordedTones } from "./kind-wordings.js";
import type { ExportJudge } from "./outside-value.js";

/** What a player writes behind a C for each kind, in the schema's order. */
const symbols =
  " m aug dim 7 maj7 m7 dim7 7#5 m7b5 m(maj7) 6 m6 9 maj9 m9 11 maj11 m11 13add11 maj13add11 m13 sus2 sus4 5".split(
    " ",
  );
const kinds = [...kindWordings.keys()].map((kind, i) => ({ kind, symbol: symbols[i] as string }));

const chartOf = (symbol: string): string => `key C major\nchords | C${symbol === "" ? "" : ":"}${symbol} |\n`;

export const chordKinds: ExportJudge = {
  subject: "the kind of a chord, with no degree beside it",
  source: "W3C MusicXML 4.0, kind-value: the kinds and what they contain",
  values: kinds.map(({ kind, symbol }) => ({
    what: `C${symbol}`,
    published: kind,
    given: () => {
      const [harmony = ""] = harmoniesOf(scoreOf(chartOf(symbol)), "above");
      return [...elementsOf(harmony, "kind"), ...elementsOf(harmony, "degree-value")].join(" ");
    },
  })),
};

const byHand = (kind: string): string => ["1", ...wordedTones(kind).map(degreeName)].join("+");

export const chordTones: ExportJudge = {
  subject: "the keys of a chord that a hand plays, in half steps above its root",
  source: "W3C MusicXML 4.0, kind-value: intervals by name, in half steps as every primer counts them",
  values: kinds.map(({ kind, symbol }) => ({
    what: `C${symbol}`,
    published: [0, ...wordedTones(kind).map(({ halfSteps }) => halfSteps)].join(" "),
    given: () => {
      const keys = strokesOf(`${chartOf(symbol)}right | ${byHand(kind)} |\n`).map(({ key }) => key);
      const root = Math.min(...keys);
      return keys
        .map((key) => key - root)
        .sort((a, b) => a - b)
        .join(" ");
    },
  })),
};
