import { shorthands as harte } from "../harte-table.js";
import { shared as hrep } from "../hrep-table.js";
import { elementsOf, harmoniesOf, scoreOf } from "./exported.js";
import { degreeName, wordedTones } from "./kind-wordings.js";
import type { ExportJudge } from "./outside-value.js";

/** Degrees in one order: `1 3 b5 b7`. */
const inOrder = (degrees: readonly string[]): string =>
  [...degrees]
    .sort((a, b) => Number(a.replace(/\D/g, "")) - Number(b.replace(/\D/g, "")) || (a < b ? -1 : 1))
    .join(" ");

/**
 * The degrees that a score's chord has, by the standard's words alone: those of its kind, and its `degree` elements.
 * An added one counts from a dominant chord, whose seventh is minor; an altered one from what the kind has.
 */
function degreesOf(harmony: string): string {
  const kind = elementsOf(harmony, "kind")[0] ?? "";
  const tones = [
    { number: 1, alter: 0 },
    ...wordedTones(kind).map(({ number, alter }) => ({ number, alter })),
  ];
  // “The "other" kind is used when the harmony is entirely composed of add elements.”
  if (kind === "other") tones.pop();
  for (const degree of elementsOf(harmony, "degree")) {
    const [number, alter] = ["degree-value", "degree-alter"].map((name) =>
      Number(elementsOf(degree, name)[0]),
    );
    const type = elementsOf(degree, "degree-type")[0];
    const at = tones.findIndex((it) => it.number === number);
    if (number === undefined || alter === undefined) return "no degree";
    if (type === "add") tones.push({ number, alter: number === 7 ? alter - 1 : alter });
    else if (at < 0) return `${type} of a ${number} that isn't there`;
    else if (type === "subtract") tones.splice(at, 1);
    else tones[at] = { number, alter: (tones[at]?.alter ?? 0) + alter };
  }
  return inOrder(tones.map(degreeName));
}

const judged = (symbol: string): string =>
  degreesOf(harmoniesOf(scoreOf(`key C major\nchords | C:${symbol} |\n`), "above")[0] ?? "");

export const hrepSymbols: ExportJudge = {
  subject: "the degrees of a chord symbol, in a score",
  source:
    "pmcharrison/hrep (MIT), inst/chord-qualities.csv, said in the words of MusicXML 4.0, kind-value and degree",
  values: hrep.map(([alias, degrees]) => ({
    what: alias,
    published: inOrder(degrees.split(" ")),
    given: () => judged(alias),
  })),
};

export const harteSymbols: ExportJudge = {
  subject: "the degrees of a shorthand, in a score",
  source: "Harte, Sandler, Abdallah and Gómez (ISMIR 2005), Table 1, said in the words of MusicXML 4.0",
  values: harte.map(([shorthand, degrees]) => ({
    what: shorthand,
    published: inOrder(`1 ${degrees}`.split(" ")),
    given: () => judged(shorthand),
  })),
};
