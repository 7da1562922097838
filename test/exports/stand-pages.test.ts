import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { openDocument } from "../../server/src/document/document.js";
import type { Drawing, TextShape } from "../../server/src/exports/drawing.js";
import { standPages } from "../../server/src/exports/stand-pages.js";
import { papers, type SheetOptions } from "../../server/src/exports/stand-sheet.js";
import { anyChart, usedFiles } from "../support/generate-chart.js";
import { hostileCharts } from "../support/hostile-charts.js";
import { dedent } from "../support/memory-io.js";
import { property } from "../support/property.js";
import { sampleCharts } from "../support/sample-charts.js";

const pagesOf = (text: string, options?: SheetOptions): readonly Drawing[] =>
  standPages(openDocument("a.plagal", dedent(text)).chart, options);
const textsOn = (page: Drawing | undefined): readonly TextShape[] =>
  (page?.shapes ?? []).filter((shape) => shape.kind === "text");
const wordsOn = (page: Drawing | undefined): readonly string[] => textsOn(page).map(({ text }) => text);

/** How tall a text's letters are over and under the baseline, as parts of its size. */
const [over, under] = [0.7, 0.05];

/** Texts that lie on one another, and what stands outside the paper. */
function faultsOf({ width, height, shapes }: Drawing): readonly string[] {
  const faults: string[] = [];
  const boxes = shapes.flatMap((shape) => {
    if (shape.kind !== "text" || shape.text.trim() === "") return [];
    const { at, anchor, size, width: wide = 0, text } = shape;
    const left = at[0] - (anchor === "start" ? 0 : anchor === "middle" ? wide / 2 : wide);
    return [{ text, left, right: left + wide, top: at[1] - over * size, bottom: at[1] + under * size }];
  });
  const isOutside = (x: number, y: number): boolean =>
    x < 0 || y < 0 || x > width || y > height || !Number.isFinite(x + y);
  for (const { text, left, right, top, bottom } of boxes)
    if (isOutside(left, top) || isOutside(right, bottom)) faults.push(`${text} is outside`);
  for (const shape of shapes) {
    if (shape.kind === "path" && shape.lines.flat().some(([x, y]) => isOutside(x, y)))
      faults.push("a line is outside");
    if (shape.kind === "oval" && isOutside(...shape.centre)) faults.push("a dot is outside");
  }
  boxes.sort((a, b) => a.top - b.top);
  boxes.forEach((a, i) => {
    for (let k = i + 1; k < boxes.length; k++) {
      const b = boxes[k] as (typeof boxes)[number];
      if (b.top >= a.bottom - 0.2) break;
      if (b.left < a.right - 0.2 && a.left < b.right - 0.2)
        faults.push(`${a.text} and ${b.text} lie on one another`);
    }
  });
  return faults;
}

const choices: readonly SheetOptions[] = [
  {},
  { paper: "letter", chords: "both", hands: "names" },
  { chords: "letters", hands: "none" },
  { chords: "numbers", hands: "numbers" },
];

describe("a chart for the music stand", () => {
  test("has title, name, facts and the form in playing order at its head", () => {
    const [page] = pagesOf(`
      title Low Tide
      by    A. Player
      key   G minor
      time  6/8
      tempo 60
      feel  swing
      note  no drums
      section Verse
      chords | 1 |
      section Tag
      chords | 5:7 |
      form Verse x2 Tag Verse in Ab Tag up half
    `);
    expect(wordsOn(page).slice(0, 5)).toEqual([
      "Low Tide",
      "G minor · 6/8 · ♩. = 60 · swing feel",
      "A. Player",
      "Verse ×2 · Tag · Verse in A♭ minor · Tag in G♯ minor",
      "no drums",
    ]);
  });

  test("says of a section what is its own: key, time, tempo, where it leads, and that it waits for a cue", () => {
    const [page] = pagesOf(`
      key G
      section Verse
      chords | 1 |
      section Bridge
      key Bb
      time 3/4
      tempo 90
      vamp
      lands 1
      chords | 1 |
      play Verse x2 up half
    `);
    expect(wordsOn(page)).toContain("in B♭ major · 3/4 · ♩ = 90 · repeat until cued · leads to the 1");
    expect(wordsOn(page)).toContain("→ Verse ×2 up half");
  });

  const bars = `
    key Eb
    chords | 1 /7 6m  | 5:9sus r   | /    | NC       |
    right  | 3+5 _3+6 | C4+F4 G4   | -    | >1       |
    left   | 1        | 0          | -    | <1       |
    lead   | 1 2 4    | b3 r       | 4~5  | -        |
    words  | Hal- le- lu | ia      |      |          |
    cue    | softly   |            |      |          |
  `;

  test("has chords in letters, in numbers or both, and as they are written where nobody says", () => {
    const chords = (options: SheetOptions): string =>
      textsOn(pagesOf(bars, { hands: "none", ...options })[0])
        .filter(({ bold }) => bold)
        .map(({ text }) => text)
        .join(" ");
    expect(chords({ chords: "letters" })).toBe("E♭ E♭ /D C m B♭ 9sus N.C.");
    expect(chords({ chords: "numbers" })).toBe("1 1 /7 6 m 5 9sus N.C.");
    expect(chords({ chords: "both" })).toBe("E♭ E♭ /D C m B♭ 9sus N.C. 1 1 /7 6 m 5 9sus");
    expect(chords({})).toBe("1 1 /7 6 m 5 9sus N.C.");
  });

  test("has the hands as numbers, as names or not at all", () => {
    const row = (options: SheetOptions): string => wordsOn(pagesOf(bars, options)[0]).join(" ");
    expect(row({ hands: "none", chords: "letters" })).not.toContain("right");
    // A stack from its lowest tone up; the octave stands with that one alone, and what is held in parentheses.
    expect(row({ hands: "names" })).toContain("G 3 B♭ (G) 3 C C 4 F G 4");
    expect(row({ hands: "numbers" })).toContain("3 5 (3) 6 9 5 6");
    expect(row({ hands: "numbers" })).toContain("right G♭3");
    // As they are written: numbers as numbers, letters as letters.
    expect(row({})).toContain("3 5 (3) 6 C 4 F G 4");
  });

  test("has words under what is sung, and cues over their bars", () => {
    const texts = textsOn(pagesOf(bars, { hands: "numbers" })[0]);
    const at = (text: string): readonly [number, number] =>
      texts.find((it) => it.text === text)?.at ?? [0, 0];
    const lead = texts.filter(
      ({ at: [, y], size, text }) => y === at("lead")[1] && size > 10 && text !== "lead",
    );
    expect(lead.map(({ text }) => text).slice(0, 3)).toEqual(["1", "2", "4"]);
    expect(["Hal-", "le-", "lu"].map((word) => at(word)[0])).toEqual(lead.slice(0, 3).map((it) => it.at[0]));
    expect(at("le-")[1]).toBeGreaterThan(at("lead")[1]);
    expect(at("le-")[1]).toBeLessThan(at("right")[1]);
    const chord = texts.find(({ bold }) => bold);
    expect(at("softly")[0]).toBe(chord?.at[0]);
    expect(at("softly")[1]).toBeLessThan(chord?.at[1] ?? 0);
  });

  test("says a silence of the chords once, where it starts", () => {
    const silences = (slots: string): number =>
      wordsOn(pagesOf(`key C\nchords | 1 ${slots} |\n`)[0]).filter((text) => text === "N.C.").length;
    expect([silences("NC NC NC"), silences("NC 4 NC"), silences("/ / NC")]).toEqual([1, 2, 1]);
  });

  test("marks repeats, endings and how often", () => {
    const [page] = pagesOf("key C\nchords |: 1 | 1. 4 :|x3 2. 5 || 1 |\n");
    expect(wordsOn(page)).toEqual(expect.arrayContaining(["1.", "2.", "×3"]));
    expect((page?.shapes ?? []).filter(({ kind }) => kind === "oval")).toHaveLength(4);
  });

  /** Where upright lines stand that are as high as a line of chords. */
  const barLines = (page: Drawing | undefined): readonly number[] => {
    const found = (page?.shapes ?? []).flatMap((shape) => {
      const [from, to] = shape.kind === "path" && !shape.closed ? (shape.lines[0] ?? []) : [];
      return from !== undefined && to !== undefined && from[0] === to[0] && to[1] - from[1] > 15
        ? [from[0]]
        : [];
    });
    return found.sort((a, b) => a - b);
  };

  test("gives a bar the room of what is in it, so that bars are not of one width", () => {
    const [one = 0, two = 0, three = 0] = barLines(
      pagesOf("key C\nchords | 1 | 2m7 5:9sus 3m7 6:7b9 | 4 | 1 |\n")[0],
    );
    expect(three - two).toBeGreaterThan(1.5 * (two - one));
  });

  test("parts a bar that is wider than the paper, with bar lines at its ends alone", () => {
    const [page, ...more] = pagesOf(`key C\nchords | ${"2m7 5:9sus ".repeat(16)}|\n`);
    expect(more).toEqual([]);
    expect(barLines(page)).toHaveLength(3);
    const chords = wordsOn(page)
      .join(" ")
      .match(/2 m7 5 9sus/g);
    expect(chords).toHaveLength(16);
  });

  const long = (sections: number, lines: number): string =>
    `title Long\nkey D\n${Array.from(
      { length: sections },
      (_, i) =>
        `section Part ${i + 1}\n${"chords | 1 | 4maj7 | 2m7 5:7 | 1/3 |\nright | 3+5+1 | 3+5+7 | b3+5 3+b7 | 5+1 |\nleft | 1 | 1 | 1 1 | 0 |\n\n".repeat(lines)}`,
    ).join("")}`;

  test("stands on one page where one holds it, smaller but never too small to read", () => {
    const counts = [1, 3, 5, 6, 7, 8].map((lines) => {
      const pages = pagesOf(long(1, lines));
      const figures = textsOn(pages[0]).filter(({ text }) => /^[♭♯]?[1-7]$/.test(text));
      // 0.2 degrees at 70 cm, for figures of 0.729 of their size.
      expect(0.729 * Math.min(...figures.map(({ size }) => size))).toBeGreaterThan(6.9);
      return pages.length;
    });
    expect(counts).toEqual([1, 1, 1, 1, 1, 1]);
    expect(pagesOf(long(1, 20)).length).toBeGreaterThan(1);
  });

  test("never parts a line of rows, and leaves no heading behind", () => {
    const pages = pagesOf(long(12, 3));
    expect(pages.length).toBeGreaterThan(2);
    for (const page of pages) {
      const words = wordsOn(page);
      const count = (text: string): number => words.filter((it) => it === text).length;
      expect(count("right")).toBe(count("left"));
      expect(words.at(-1)).toMatch(/^Long · \d+ \/ \d+$/);
      const lowest = textsOn(page)
        .slice(0, -1)
        .reduce((a, b) => (b.at[1] > a.at[1] ? b : a));
      expect(lowest.text).not.toMatch(/^Part/);
    }
    expect(new Set(pages.flatMap(wordsOn).filter((text) => /^Part \d+$/.test(text))).size).toBe(12);
  });

  test("is as large as its paper", () => {
    for (const [paper, size] of Object.entries(papers))
      expect(pagesOf("title A", { paper: paper as "a4" | "letter" })[0]).toMatchObject(size);
  });

  test.each(hostileCharts)("has nothing outside its paper or on top of anything else: %s", (_name, text) => {
    for (const options of [{}, { chords: "both", hands: "names" }] as const)
      expect(standPages(openDocument("a.plagal", text).chart, options).flatMap(faultsOf)).toEqual([]);
  });

  property(
    "has nothing on top of anything else and nothing outside the paper, whatever the chart",
    anyChart(),
    150,
    (text) => {
      const { chart } = openDocument("songs/a.plagal", text, usedFiles);
      for (const options of choices)
        expect(standPages(chart, options).flatMap(faultsOf), JSON.stringify(options)).toEqual([]);
    },
  );

  test.each(sampleCharts)("%s has nothing on top of anything else", (name) => {
    const { chart } = openDocument(name, readFileSync(`test/charts/${name}`, "utf8"));
    for (const options of choices)
      expect(standPages(chart, options).flatMap(faultsOf), JSON.stringify(options)).toEqual([]);
  });
});
