// An engraver of music that is not ours: npm verovio 6.3.0 (LGPL-3.0). It lays out every sample, and has nothing to
// remark on any. (It prints a chord's degrees although they say that they aren't to be printed, and the letter of a
// bass whose text is a number: MusicXML 4.0, `print-object` and `bass-step`.)
import { readdirSync, readFileSync } from "node:fs";
import { posix } from "node:path";
import fc from "fast-check";
import { beforeAll, describe, expect, test } from "vitest";
import { defaultSettings, type Files, openDocument } from "../../server/src/document/document.js";
import { musicXml } from "../../server/src/exports/musicxml.js";
import { perform } from "../../server/src/exports/performance.js";
import { staffPictures } from "../../server/src/exports/staff-pictures.js";
import { anyChart, usedFiles } from "../support/generate-chart.js";
import { hostileCharts } from "../support/hostile-charts.js";
import { sampleCharts } from "../support/sample-charts.js";

interface Toolkit {
  readonly setOptions: (options: Readonly<Record<string, unknown>>) => void;
  readonly loadData: (data: string) => number | boolean;
  readonly getPageCount: () => number;
  readonly renderToSVG: (page: number) => string;
  readonly getLog: () => string;
}

/** The parts of verovio that are used here; it brings no types. */
interface Verovio {
  readonly VerovioToolkit: new (module: unknown) => Toolkit;
  readonly enableLogToBuffer: (value: boolean, module: unknown) => void;
  readonly enableLog: (level: number, module: unknown) => void;
  readonly LOG_WARNING: number;
}

let toolkit: Toolkit;
beforeAll(async () => {
  const [wasm, esm] = ["verovio/wasm", "verovio/esm"];
  const { default: makeModule } = (await import(wasm)) as { readonly default: () => Promise<unknown> };
  const verovio = (await import(esm)) as Verovio;
  const module = await makeModule();
  toolkit = new verovio.VerovioToolkit(module);
  verovio.enableLogToBuffer(true, module);
  verovio.enableLog(verovio.LOG_WARNING, module);
});

/** The pages of a score, and all that the engraver says while it reads and lays it out. */
function engraved(score: string): { readonly pages: string; readonly remarks: string } {
  const isRead = toolkit.loadData(score);
  let remarks = isRead ? toolkit.getLog() : "it can't be read";
  let pages = "";
  for (let page = 1; page <= toolkit.getPageCount(); page++) {
    pages += toolkit.renderToSVG(page);
    remarks += toolkit.getLog();
  }
  return { pages, remarks };
}

const folder = new URL("../charts/", import.meta.url);
const read = (name: string): string => readFileSync(new URL(name, folder), "utf8");
const names = readdirSync(folder);
const files: Files = {
  find: (from, path) => {
    const wanted = posix.join(posix.dirname(from), path);
    return names.includes(wanted) ? { kind: "text", path: wanted, text: read(wanted) } : { kind: "missing" };
  },
};

describe("verovio", () => {
  test("remarks on what is wrong: ties that nobody goes on with", () => {
    const { text } = musicXml(openDocument("a.plagal", "right | C | - |").chart);
    expect(engraved(text).remarks).toBe("");
    expect(engraved(text.replaceAll(/<ti(?:e|ed) type="stop"\/>/g, "")).remarks).toContain("left open");
  });

  test.each(sampleCharts)("engraves %s without a remark", (name) => {
    const { chart } = openDocument(name, read(name), files, defaultSettings);
    const { pages, remarks } = engraved(musicXml(chart).text);
    expect(remarks).toBe("");
    const heads = pages.match(/class="notehead/g)?.length ?? 0;
    const written = perform(chart).parts.filter(({ name }) => name !== "comping");
    if (written.length > 0) expect(heads).toBeGreaterThan(0);
    expect(pages.match(/class="measure/g)?.length ?? 0).toBeGreaterThan(0);
  });
});

describe("verovio, given the pictures of the page beside the text", () => {
  /** Each picture is engraved without a remark, bar for bar, with a place for each chord. */
  function areEngraved(text: string): void {
    const { chart } = openDocument("a.plagal", text, usedFiles, defaultSettings);
    // So wide that no bar is too full.
    toolkit.setOptions({ pageWidth: 50_000, pageHeight: 60_000, header: "none", footer: "none" });
    for (const { xml, chords } of chart.sections.flatMap(staffPictures)) {
      const { pages, remarks } = engraved(xml);
      expect(remarks, text).toBe("");
      expect([...pages.matchAll(/<g id="([^"]*)" class="measure"/g)].map(([, id]) => id)).toEqual(
        [...xml.matchAll(/<measure [^>]*\bid="([^"]*)"/g)].map(([, id]) => id),
      );
      expect(pages.match(/class="harm"/g)?.length ?? 0).toBe(chords.length);
    }
  }

  test("engraves every sample", () => {
    for (const name of sampleCharts) areEngraved(read(name));
  });

  test("engraves what nobody writes", () => {
    // As it is played, thousands of bars are the same few over and over.
    // The 157 pictures of 5,000 bars are all alike, and take ten seconds.
    for (const [name, text] of hostileCharts) if (name !== "5,000 bars") areEngraved(text);
  });

  test("engraves 30 charts made at random", () => {
    const seed = Number(process.env.PLAGAL_SEED || 20_270_314);
    console.log(`seed ${seed}, 30 runs: verovio engraves charts made at random`);
    for (const text of fc.sample(anyChart(), { seed, numRuns: 30 })) areEngraved(text);
  });
});
