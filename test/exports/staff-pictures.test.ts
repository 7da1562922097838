import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { openDocument, withText } from "../../server/src/document/document.js";
import { type StaffPicture, staffPictures } from "../../server/src/exports/staff-pictures.js";
import { pitchName } from "../../server/src/theory/pitch.js";
import { chartText } from "../support/edit-chart.js";
import { anyChart, usedFiles } from "../support/generate-chart.js";
import { hostileCharts } from "../support/hostile-charts.js";
import { schemaErrors, schemaIsMissing } from "../support/musicxml-schema.js";
import { property } from "../support/property.js";
import { readScore } from "../support/read-score.js";
import { sampleCharts } from "../support/sample-charts.js";

const chartOf = (text: string) => openDocument("chart.plagal", text, usedFiles).chart;

/** The pictures of a chart's sections, one after the other. */
const pictures = (text: string): readonly StaffPicture[] => chartOf(text).sections.flatMap(staffPictures);

const xmlOf = (text: string): string => {
  const [picture, ...more] = pictures(chartText(text));
  expect(more).toEqual([]);
  return picture?.xml ?? "";
};

const each = (text: string, name: string): readonly string[] =>
  [...text.matchAll(new RegExp(`<${name}(?= |>|/).*?(?:</${name}>|/>)`, "gs"))].map(([it]) => it);
const inner = (text: string, name: string): readonly string[] =>
  [...text.matchAll(new RegExp(`<${name}(?: [^>]*)?>([^<]*)</${name}>`, "g"))].map(([, it]) => it as string);
const ids = (xml: string): readonly string[] =>
  [...xml.matchAll(/<measure [^>]*\bid="([^"]*)"/g)].map(([, id]) => id as string);

const beamSigns: Readonly<Record<string, string>> = {
  begin: "[",
  continue: "=",
  end: "]",
  "forward hook": ">",
  "backward hook": "<",
};

/** The notes of the top staff as their values, with the beams of each behind it: `8[ 16=> 8]`. */
const beamed = (text: string): string =>
  [...xmlOf(text).matchAll(/<note>(?:(?!<chord\/>).)*?<\/note>/gs)]
    .map(([note]) => {
      const [type = "whole"] = inner(note, "type");
      const value =
        { whole: "1", half: "2", quarter: "4", eighth: "8", "16th": "16", "32nd": "32" }[type] ?? type;
      return (
        value +
        inner(note, "beam")
          .map((it) => beamSigns[it])
          .join("")
      );
    })
    .join(" ");

describe("beams", () => {
  test.each([
    ["4/4", "(C D) E (F G A) C", "8[ 8] 4 8[ 8= 8] 4"],
    // Half a bar of eighths is one group, and no more than that.
    ["4/4", "(C D) (E F) (G A) (B C)", "8[ 8= 8= 8] 8[ 8= 8= 8]"],
    ["4/4", "C (D E) (F G) A", "4 8[ 8] 8[ 8] 4"],
    ["4/4", "(C D) (E F G A) B C", "8[ 8] 16[[ 16== 16== 16]] 4 4"],
    ["3/4", "(C D) (E F) (G A)", "8[ 8] 8[ 8] 8[ 8]"],
    ["6/8", "C D E F G A", "8[ 8= 8] 8[ 8= 8]"],
    ["5/8", "C D E F G", "8[ 8= 8] 8[ 8]"],
    ["7/8", "C D E F G A B", "8[ 8= 8] 8[ 8] 8[ 8]"],
    ["2/4", "(C (D E)) ((C D) E)", "8[ 16=[ 16]] 16[[ 16=] 8]"],
    // A short note's own beam points to the note that it fills a longer value with.
    ["2/4", "(C - - D) (C D - -)", "8[ 16]< 16[> 8]"],
    ["2/4", "(C r) (r D)", "8 8 8 8"],
    ["4/4", "(C r D E) r - -", "16 16 16[[ 16]] 4 2"],
  ])("a bar of %s with %s", (time, bar, printed) => {
    expect(beamed(`key C\ntime ${time}\nlead from C4 | ${bar} |\n`)).toBe(printed);
  });

  test("an upbeat's are counted from the end of its bar", () => {
    expect(beamed("key C\nlead from C4 (C D) (E F) | C |\n")).toBe("8[ 8= 8= 8] 1");
  });

  test("the quintuplet of a bar is under one", () => {
    expect(beamed("key C\ntime 2/4\nlead from C4 | C D E F G |\n")).toBe("8[ 8= 8= 8= 8]");
  });
});

describe("a section is printed as it is written", () => {
  test("each bar once, under its repeats and endings", () => {
    const xml = xmlOf("key C\nlead |: C | D | 1. E :| 2. F | G ||\n");
    expect(ids(xml)).toEqual(["b0", "b1", "b2", "b3", "b4"]);
    const lines = xml.split("<measure ").slice(1);
    expect(lines.map((it) => each(it, "repeat").join())).toEqual([
      '<repeat direction="forward"/>',
      "",
      '<repeat direction="backward"/>',
      "",
      "",
    ]);
    expect(lines.map((it) => each(it, "ending").join(" "))).toEqual([
      "",
      "",
      '<ending number="1" type="start">1.</ending> <ending number="1" type="stop">1.</ending>',
      '<ending number="2" type="start">2.</ending> <ending number="2" type="discontinue">2.</ending>',
      "",
    ]);
  });

  test("what is repeated more than twice says how often", () => {
    expect(inner(xmlOf("key C\nlead |: C | D :| x4\n"), "words")).toEqual(["4 times"]);
  });

  test("all verses under each other, whatever the form sings", () => {
    const xml = xmlOf("key C\nsection A\nlead | C D |\nwords | one two |\nwords | three four |\nform A\n");
    expect(each(xml, "lyric").map((it) => `${/number="(.)"/.exec(it)?.[1]} ${inner(it, "text")[0]}`)).toEqual(
      ["1 one", "2 three", "1 two", "2 four"],
    );
  });

  test("a pickup has a bar of its own, wherever it stands", () => {
    const xml = xmlOf("key C\nlead C | D | E |\n\nlead (F G) | A | B |\n");
    expect(ids(xml)).toEqual(["b0p", "b0", "b1", "b2p", "b2", "b3"]);
    expect(each(xml, 'measure number="X3"')[0]).toContain('implicit="yes"');
    expect(
      readScore(xml)
        .staves.get("Lead")
        ?.map(({ pitch }) => pitch),
    ).toEqual(["C4", "D4", "E4", "F4", "G4", "A4", "B4"]);
  });

  test("in its own key, and the form's other keys change nothing", () => {
    const plain = xmlOf("key C\nsection A\nlead | C D |\nform A\n");
    expect(xmlOf("key C\nsection A\nlead | C D |\nform A up half A in F\n")).toBe(plain);
  });

  test("what is held into a second ending stands in parentheses: no tie can lead there", () => {
    const xml = xmlOf("key C\nright |: C | 1. D :| 2. - ||\n");
    const measures = xml.split("<measure ").slice(1);
    expect(measures.map((it) => each(it, "notehead").length)).toEqual([0, 0, 1]);
    expect(each(xml, "tied")).toEqual([]);
    expect(measures[2]).toContain("<step>C</step>");
  });

  test("key, tempo and feel where they change", () => {
    const xml = xmlOf("key C\ntempo 80\nlead | C |\nkey Eb\ntempo 96\nfeel swing\nlead | C |\n");
    expect(inner(xml, "fifths")).toEqual(["0", "-3"]);
    expect(inner(xml, "words")).toEqual(["Swing, ♩ = 96"]);
  });

  test("sections that it plays are named", () => {
    const [, second] = pictures(
      "key C\nsection A\nlead | C |\n\nsection B\nlead | D |\nplay A\nlead | E |\n",
    );
    expect(inner(second?.xml ?? "", "words")).toEqual(["first A"]);
  });

  test("has the chords' names beside it, letters and numbers, in order", () => {
    const [picture] = pictures("key Eb\nchords | 1 5:7/7 | NC 2m7b5 |\nright | 1+3 | 1+3 |\n");
    expect(picture?.chords).toEqual([
      { letters: "E♭", numbers: "1" },
      { letters: "B♭7/D", numbers: "5:7/7" },
      { letters: "N.C.", numbers: "N.C." },
      { letters: "Fm7♭5", numbers: "2m7♭5" },
    ]);
    expect(each(picture?.xml ?? "", "harmony")).toHaveLength(4);
  });
});

describe("long sections", () => {
  const system = "chords | 1 | 4 | 5:7 | 1 |\nright | 1+3 | 1+3 | 1+3 | - |\n";
  const long = (systems: number, more = ""): string => `key C\n${`${system}\n`.repeat(systems)}${more}`;

  test("come in pictures of at most 32 bars, cut where the text starts a line", () => {
    expect(pictures(long(20)).map(({ first, last }) => [first, last])).toEqual([
      [0, 31],
      [32, 63],
      [64, 79],
    ]);
    expect(pictures(long(8))).toHaveLength(1);
  });

  test("no tie leads from one picture to another", () => {
    const [first, second] = pictures(long(8, "right | - | C |\n"));
    expect(each(first?.xml ?? "", "tied").at(-1)).toBe('<tied type="let-ring"/>');
    expect(each(second?.xml ?? "", "notehead")).toHaveLength(2);
    expect(each(second?.xml ?? "", "tied")).toEqual([]);
    // The meter is known; the engraver needs it all the same.
    expect(second?.xml).toContain('<time print-object="no">');
    for (const { xml } of [first, second] as StaffPicture[]) readScore(xml);
  });

  test("an edit makes the pictures of its own section anew, and no others", () => {
    const text = "key C\nsection A\nlead | C |\n\nsection B\nlead | D |\n";
    const before = openDocument("chart.plagal", text);
    const after = withText(before, text.replace("| C |", "| C E |"));
    const [a, b] = before.chart.sections.map(staffPictures);
    const [newA, newB] = after.chart.sections.map(staffPictures);
    expect(newA).not.toEqual(a);
    expect(newB).toBe(b);
  });

  test("bars of hundreds of notes are in no picture, and those around them are", () => {
    const bar = (count: number): string => Array.from({ length: count }, () => "C").join(" ");
    const text = `key C\nright | C |\n\nright | ${bar(512)} |\n`;
    expect(pictures(text)).toEqual([]);
    expect(pictures(`${long(8)}right | ${bar(512)} |\n`).map(({ last }) => last)).toEqual([31]);
    expect(pictures(`key C\nright | ${bar(64)} |\n`)).toHaveLength(1);
  });
});

/** Every bar of a section and its pickups, as ids of measures. */
const barsOf = ({ chart, index }: { chart: ReturnType<typeof chartOf>; index: number }): readonly string[] =>
  (chart.sections[index]?.section.systems ?? []).flatMap(({ firstBar, endBar, pickup }) => [
    ...(pickup.n > 0 && endBar > firstBar ? [`b${firstBar}p`] : []),
    ...Array.from({ length: endBar - firstBar }, (_, i) => `b${firstBar + i}`),
  ]);

/** From the first bar to the last, whatever its signs say: a tie may lead over them. */
const straightOn = (xml: string): string => xml.replace(/<repeat [^>]*>|<ending .*?<\/ending>/g, "");

/** A reader of ours takes every picture, and finds each bar once. */
function isSound(text: string): void {
  const chart = chartOf(text);
  chart.sections.forEach((placed, index) => {
    const all = staffPictures(placed);
    for (const { xml } of all) readScore(straightOn(xml));
    expect(all.flatMap(({ xml }) => ids(xml))).toEqual(barsOf({ chart, index }));
  });
}

const read = (name: string): string => readFileSync(`test/charts/${name}`, "utf8");

test.each(sampleCharts)("%s is read again as it is written", (name) => {
  isSound(read(name));
  for (const placed of chartOf(read(name)).sections) {
    const { section } = placed;
    // Where nothing comes twice, what is read is what is written, note by note.
    if (section.bars.some(({ repeat }) => repeat.end)) continue;
    const [picture, ...more] = staffPictures(placed);
    if (picture === undefined || more.length > 0) continue;
    const { staves } = readScore(picture.xml);
    const hands = { lead: "Lead", right: "Piano 1", left: "Piano 2", bass: "Bass" } as const;
    for (const row of ["lead", "right", "left", "bass"] as const) {
      const written = section.rows[row].notes
        .filter(({ grace }) => !grace)
        .map(({ pitch }) => pitchName(pitch));
      const found = (staves.get(hands[row]) ?? []).map(({ pitch }) => pitch);
      expect(found.toSorted(), `${section.name} ${row}`).toEqual(written.toSorted());
    }
  }
});

property("the pictures of any chart are sound", anyChart(), 150, isSound);

describe.skipIf(schemaIsMissing !== undefined)("the schema of MusicXML 4.0", () => {
  const scores = (texts: readonly string[]): ReadonlyMap<string, string> =>
    new Map(texts.flatMap(pictures).map(({ xml }, i) => [`${i}.musicxml`, xml]));

  test("takes the pictures of samples, hostile charts and charts made at random", async () => {
    expect(await schemaErrors(scores(sampleCharts.map(read)))).toEqual([]);
    expect(await schemaErrors(scores(hostileCharts.map(([, text]) => text)))).toEqual([]);
    expect(await schemaErrors(scores(fc.sample(anyChart(), { seed: 20_270_314, numRuns: 50 })))).toEqual([]);
  });
});
