import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { type Files, openDocument } from "../../server/src/document/document.js";
import { exporters } from "../../server/src/exports/exporters.js";
import { savedMidi } from "../../server/src/page/saved-midi.js";
import { practical, practicalKeys, prettyKey } from "../../server/src/theory/key.js";
import { pitchClass } from "../../server/src/theory/note-name.js";
import { anyChart, usedFiles } from "../support/generate-chart.js";
import { movedTo, pageOf, viewIn } from "../support/page-of.js";
import { property } from "../support/property.js";
import { sampleCharts } from "../support/sample-charts.js";

/** How many of a page's keys were compared, each with the exporter's bytes. */
function compareAllKeys(text: string, files?: Files): number {
  const document = openDocument("page.plagal", text, files);
  const { content } = pageOf(text, files);
  const { home, original } = document.chart.header;
  let compared = 0;
  for (const it of practicalKeys(home.key.mode)) {
    const isHome = pitchClass(it.tonic) === pitchClass(home.key.tonic);
    const key = isHome ? home.key : practical(it, original ?? home.key.tonic);
    const moved = isHome ? document : movedTo(document, key.tonic, files);
    const shown = content.keys.find(({ name }) => name === prettyKey(key));
    expect(shown === undefined, prettyKey(key)).toBe(moved === undefined);
    if (shown === undefined || moved === undefined) continue;
    const saved = Buffer.from(savedMidi(content.title, viewIn(content, shown)));
    expect(saved.equals(exporters.midi(moved.chart).bytes), prettyKey(key)).toBe(true);
    compared++;
  }
  return compared;
}

describe("the MIDI file that a page saves is the exporter's, byte for byte, in all twelve keys", () => {
  test.each(sampleCharts)("%s", (name) => {
    expect(compareAllKeys(readFileSync(join("test/charts", name), "utf8"))).toBe(12);
  });

  property("of charts made at random", anyChart(), 60, (text) => {
    expect(compareAllKeys(text, usedFiles)).toBeGreaterThan(0);
  });
});

test("what a key changes are numbers: no sample needs a view of its own for a key", () => {
  for (const name of sampleCharts.slice(0, 20)) {
    const { content } = pageOf(readFileSync(join("test/charts", name), "utf8"));
    const whole = content.keys.filter((key) => "view" in key);
    expect(whole, name).toEqual([]);
  }
});
