import { elementsOf, scoreOf, strokesOf } from "./exported.js";
import type { ExportJudge } from "./outside-value.js";

/** W3C MusicXML 4.0, note-type-value, from the whole note down; each is half of the one before it, as its name says. */
const types = "whole half quarter eighth 16th 32nd 64th 128th 256th 512th 1024th".split(" ");

/** A bar of 4/4 with 1, 2, 4 … equal notes. */
const evenly = (power: number): string =>
  `lead | ${Array<string>(2 ** power)
    .fill("C4")
    .join(" ")} |\n`;

/** What the first note of a score says it is: `quarter.` with its dot. */
function typeIn(score: string): string {
  const [note = ""] = elementsOf(score, "note");
  return (elementsOf(note, "type")[0] ?? "none") + (note.includes("<dot/>") ? "." : "");
}

/** How many quarters the first note of a score lasts. */
const quartersIn = (score: string): number =>
  Number(elementsOf(score, "duration")[0]) / Number(elementsOf(score, "divisions")[0]);

/** Bars of one dotted note, and how many quarters that is: a dot adds half. */
const dotted: ReadonlyArray<readonly [time: string, type: string, quarters: number]> = [
  ["3/2", "whole.", 6],
  ["3/4", "half.", 3],
  ["3/8", "quarter.", 1.5],
  ["3/16", "eighth.", 0.75],
  ["3/32", "16th.", 0.375],
  ["3/64", "32nd.", 0.1875],
];
const dottedChart = (time: string): string => `time ${time}\nlead | C4 |\n`;

export const noteTypes: ExportJudge = {
  subject: "the type of a note in a score",
  source: "W3C MusicXML 4.0, note-type-value and dot",
  values: [
    ...types.map((type, power) => ({
      what: `1/${2 ** power}`,
      published: type,
      given: () => typeIn(scoreOf(evenly(power))),
    })),
    ...dotted.map(([time, type]) => ({
      what: `a bar of ${time}`,
      published: type,
      given: () => typeIn(scoreOf(dottedChart(time))),
    })),
    { what: "a bar of 4/2", published: "breve", given: () => typeIn(scoreOf(dottedChart("4/2"))) },
  ],
};

export const noteDurations: ExportJudge = {
  subject: "the duration of a note in quarters",
  source:
    "W3C MusicXML 4.0, divisions: “if duration = 1 and divisions = 2, this is an eighth note duration”; note values as every primer halves them",
  values: [
    ...[4, 2, 1, 0.5, 0.25, 0.125, 0.0625, 0.03125, 0.015625, 0.0078125, 0.00390625].map(
      (quarters, power) => ({
        what: `1/${2 ** power}`,
        published: quarters,
        given: () => quartersIn(scoreOf(evenly(power))),
      }),
    ),
    ...dotted.map(([time, , quarters]) => ({
      what: `a bar of ${time}`,
      published: quarters,
      given: () => quartersIn(scoreOf(dottedChart(time))),
    })),
  ],
};

/** So many notes in the time of so many, their type, and what part of a quarter one lasts. */
const tuplets: ReadonlyArray<readonly [row: string, ratio: string, type: string, part: number]> = [
  ["C4 D4 E4", "3:2", "half", 4 / 3],
  ["(C4 D4 E4) r", "3:2", "quarter", 2 / 3],
  ["(C4 D4 E4) r r r", "3:2", "eighth", 1 / 3],
  ["((C4 D4 E4) r) r r r", "3:2", "16th", 1 / 6],
  ["(C4 D4 E4 F4 G4) r r r", "5:4", "16th", 1 / 5],
  ["(C4 D4 E4 F4 G4 A4 B4) r r r", "7:4", "16th", 1 / 7],
];

export const tupletValues: ExportJudge = {
  subject: "tuplets",
  source:
    "W3C MusicXML 4.0, time-modification: “how many notes are played in the time usually occupied by”; the note values that primers give tuplets",
  values: tuplets.flatMap(([row, ratio, type, part]) => {
    const chart = `lead | ${row} |\n`;
    return [
      {
        what: `the ratio of ${row}`,
        published: ratio,
        given: () => {
          const [first = ""] = elementsOf(scoreOf(chart), "time-modification");
          return ["actual-notes", "normal-notes"].map((name) => elementsOf(first, name)[0]).join(":");
        },
      },
      { what: `the type of ${row}`, published: type, given: () => typeIn(scoreOf(chart)) },
      {
        what: `the ticks of ${row}`,
        published: Math.round(480 * part),
        given: () => strokesOf(chart)[0]?.length,
      },
    ];
  }),
};

/** The longer and the shorter half of a shuffled beat. */
const shuffled = "feel shuffle\nlead | (C4 D4) (C4 D4) (C4 D4) (C4 D4) |\n";

export const swung: ExportJudge = {
  subject: "a shuffle",
  source:
    "W3C MusicXML 4.0, swing: 2 to 1 on eighths is “a quarter note / eighth note tuplet”: two thirds and one third of 480 ticks",
  values: [
    { what: "first", published: "2", given: () => elementsOf(scoreOf(shuffled), "first")[0] },
    { what: "second", published: "1", given: () => elementsOf(scoreOf(shuffled), "second")[0] },
    { what: "swing-type", published: "eighth", given: () => elementsOf(scoreOf(shuffled), "swing-type")[0] },
    { what: "ticks of the first", published: 320, given: () => strokesOf(shuffled)[0]?.length },
    { what: "ticks of the second", published: 160, given: () => strokesOf(shuffled)[1]?.length },
  ],
};
