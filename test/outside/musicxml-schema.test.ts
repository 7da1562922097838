// W3C MusicXML 4.0, musicxml.xsd (tag v4.0 of w3c/musicxml), by npm xmllint-wasm 5.3.0 (MIT; libxml2).
import { readFileSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { openDocument } from "../../server/src/document/document.js";
import { musicXml } from "../../server/src/exports/musicxml.js";
import { anyChart, usedFiles } from "../support/generate-chart.js";
import { hostileCharts } from "../support/hostile-charts.js";
import { schemaErrors, schemaIsMissing } from "../support/musicxml-schema.js";
import { root } from "../support/root.js";
import { sampleCharts } from "../support/sample-charts.js";

// None of the registries has the schema, so a machine that nobody handed it to can't hold a score to it; one that was
// told where it lies has to.
if (schemaIsMissing !== undefined) {
  if (process.env.MUSICXML_XSD) throw new Error(schemaIsMissing);
  console.log(schemaIsMissing);
}

const scoreOf = (text: string): string => musicXml(openDocument("a.plagal", text, usedFiles).chart).text;

describe.skipIf(schemaIsMissing !== undefined)("the schema of MusicXML 4.0", () => {
  test("holds what it is given to its rules: a note without a voice's time is refused", async () => {
    const broken = scoreOf("right | C |").replace(/<duration>[0-9]+<\/duration>/, "");
    expect(await schemaErrors(new Map([["broken.musicxml", broken]]))).not.toEqual([]);
  });

  test("takes every sample chart", async () => {
    const scores = sampleCharts.map(
      (name) => [name, scoreOf(readFileSync(join(root, "test/charts", name), "utf8"))] as const,
    );
    expect(scores.length).toBeGreaterThan(20);
    expect(await schemaErrors(new Map(scores))).toEqual([]);
  });

  test("takes 300 charts made at random", async () => {
    const seed = Number(process.env.PLAGAL_SEED || 20_270_314);
    console.log(`seed ${seed}, 300 runs: the schema takes charts made at random`);
    const texts = fc.sample(anyChart(), { seed, numRuns: 300 });
    const scores = texts.map((text, i) => [`${i}.musicxml`, scoreOf(text)] as const);
    for (let i = 0; i < scores.length; i += 50)
      expect(await schemaErrors(new Map(scores.slice(i, i + 50)))).toEqual([]);
  });

  test("takes hostile charts", async () => {
    const scores = hostileCharts.map(([, text], i) => [`${i}.musicxml`, scoreOf(text)] as const);
    expect(await schemaErrors(new Map(scores))).toEqual([]);
  });
});
