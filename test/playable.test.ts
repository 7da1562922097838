import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { handGrips } from "../server/src/chart/hand-grips.js";
import { openDocument } from "../server/src/document/document.js";
import type { Code } from "../server/src/problems/catalogue.js";
import { alone } from "./support/charts-of.js";
import { sampleCharts } from "./support/sample-charts.js";

/** What a hand, or two, can't do: charts that were written to be played say none of it. */
const impossible: ReadonlySet<Code> = new Set([
  "hand-span",
  "too-many-notes",
  "hands-collide",
  "hands-cross",
  "too-far-too-fast",
]);

const alarmsIn = (text: string): readonly string[] =>
  openDocument("chart.plagal", text)
    .problems.filter(({ code }) => impossible.has(code))
    .map(({ code, message }) => `${code}: ${message}`);

test.each(sampleCharts)("no hand is in the way of %s as it was written", (path) => {
  const text = readFileSync(`test/charts/${path}`, "utf8");
  const { chart } = alone(text).at("chart.plagal");
  const grips = chart.sections.flatMap(({ section }) => [
    ...handGrips(section, "left"),
    ...handGrips(section, "right"),
  ]);
  expect(grips.length).toBeGreaterThan(0);
  expect(alarmsIn(text)).toEqual([]);
});

test("the same charts at a hand's least reach are not all silent", () => {
  const alarms = sampleCharts.flatMap((path) => {
    const text = readFileSync(`test/charts/${path}`, "utf8").replace(/^reach .*\n/m, "");
    return alarmsIn(text.replace(/^key /m, "reach 5\nkey "));
  });
  expect(alarms.length).toBeGreaterThan(10);
});
