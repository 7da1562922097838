// Two readers of PDF that are not ours: Poppler (Debian's poppler-utils: pdftotext, pdffonts, pdftoppm; GPL) reads the
// text back and draws the pages, qpdf (Apache-2.0) checks the file against ISO 32000.
import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, test } from "vitest";
import { chordInNumbers } from "../../server/src/chart/chord-summary.js";
import type { Chart } from "../../server/src/chart/model.js";
import { openDocument } from "../../server/src/document/document.js";
import { sheets } from "../../server/src/exports/sheets.js";
import type { SheetOptions } from "../../server/src/exports/stand-sheet.js";
import { prettyChord, prettyQuality } from "../../server/src/theory/chord.js";
import { hostileCharts } from "../support/hostile-charts.js";
import { sampleCharts } from "../support/sample-charts.js";

const missing = ["pdftotext", "qpdf"].filter((name) => spawnSync(name, ["--version"]).error !== undefined);
const isThere = missing.length === 0;
if (!isThere) {
  const why = `${missing.join(" and ")} isn't installed (Debian: apt-get install poppler-utils qpdf), so no PDF is read back here.`;
  if (process.env.PLAGAL_NO_SKIP) throw new Error(why);
  console.log(why);
}

const folder = mkdtempSync(join(tmpdir(), "plagal-pdf-"));
const path = join(folder, "chart.pdf");
afterAll(() => rmSync(folder, { recursive: true }));

function run(name: string, args: readonly string[]): string {
  const { status, stdout, stderr } = spawnSync(name, args, { encoding: "utf8", maxBuffer: 1 << 28 });
  if (status !== 0) throw new Error(`${name} ${args.join(" ")}: ${stdout}${stderr}`);
  return stdout;
}

const chartOf = (text: string): Chart => openDocument("a.plagal", text).chart;

/** A chart's text as Poppler reads it from the PDF, in the order in which it was written, without white space. */
function readBack(chart: Chart, options: SheetOptions): string {
  writeFileSync(path, sheets.pdf(chart, options));
  return run("pdftotext", ["-raw", path, "-"]).replace(/[\s\f]+/gu, "");
}

/** What isn't found of some texts in their order. */
function unfound(text: string, wanted: readonly string[]): readonly string[] {
  let from = 0;
  return wanted.filter((it) => {
    const at = text.indexOf(it, from);
    if (at >= 0) from = at + it.length;
    return at < 0;
  });
}

/** The chords of all sections that are printed, those of a pickup before its bar. */
const chordsOf = ({ sections }: Chart) => sections.flatMap(({ section }) => section.chords);

const inNumbers = (event: Parameters<typeof chordInNumbers>[0]): string =>
  prettyQuality(chordInNumbers(event).replace(":", "")).replaceAll("b", "♭");

describe.runIf(isThere)("a printed chart", () => {
  test.each(sampleCharts)("%s reads back with every chord in order, in letters and in numbers", (name) => {
    const chart = chartOf(readFileSync(`test/charts/${name}`, "utf8"));
    const events = chordsOf(chart);
    const letters = events.map(({ chord }) => prettyChord(chord));
    expect(unfound(readBack(chart, { chords: "letters", hands: "none" }), letters)).toEqual([]);
    expect(unfound(readBack(chart, { chords: "numbers", hands: "none" }), events.map(inNumbers))).toEqual([]);
    expect(unfound(readBack(chart, { chords: "letters", paper: "letter" }), letters)).toEqual([]);
  });

  test("reads back as nothing but what it says", () => {
    const chart = chartOf(
      'title Été à Łódź\nby ÅÄÖ ọmọ Ψαλμός Псалом\nkey Gb\ntempo 72\nsection Vers “1”\nchords | 1 4/5 | b6:7b9 NC |\nsection Tag\nchords | 5:7#9 |\nform "Vers “1”" Tag x2\n',
    );
    expect(readBack(chart, { chords: "letters" })).toBe(
      [
        "ÉtéàŁódź",
        "G♭major·4/4·♩=72",
        "ÅÄÖọmọΨαλμόςПсалом",
        "Vers“1”·Tag×2",
        "Vers“1”",
        "G♭C♭/D♭D7♭9N.C.",
        "Tag",
        "D♭7♯9",
      ].join(""),
    );
  });

  test("has its fonts with it, and their signs by name", () => {
    readBack(chartOf(readFileSync("test/charts/harbour-evening.plagal", "utf8")), {});
    const fonts = run("pdffonts", [path]).trim().split("\n").slice(2);
    expect(fonts).toHaveLength(2);
    for (const font of fonts)
      expect(font).toMatch(/^PLAGAL\+DejaVuSansCondensed\S*\s+CID TrueType\s+Identity-H\s+yes yes yes/);
  });

  test.each([
    ["a4", "595 x 842 pts (A4)"],
    ["letter", "612 x 792 pts (letter)"],
  ] as const)("is printed on %s", (paper, size) => {
    readBack(chartOf("title A\nchords | 1 |\n"), { paper });
    expect(run("pdfinfo", [path])).toContain(`Page size:       ${size}`);
  });

  test("carries its title, and no date", () => {
    readBack(chartOf("title Été ♭\nchords | 1 |\n"), {});
    const info = run("pdfinfo", [path]);
    expect(info).toMatch(/^Title: +Été ♭$/m);
    expect(info).not.toMatch(/Date:/);
  });

  test.each(hostileCharts)("is valid whatever the chart: %s", (_name, text) => {
    readBack(chartOf(text), { chords: "both" });
    expect(run("qpdf", ["--check", path])).toContain("No syntax or stream encoding errors found");
    expect(run("pdfinfo", [path])).toMatch(/^JavaScript: +no$/m);
  });
});

test.each(["harbour-evening", "lantern-road"])("%s is printed as the same bytes again", (name) => {
  const text = readFileSync(`test/charts/${name}.plagal`, "utf8");
  expect(sheets.pdf(chartOf(text))).toEqual(sheets.pdf(chartOf(text)));
});
