import { expect } from "vitest";
import { functionAt, functionsOf } from "../../server/src/chart/harmony.js";
import { openDocument } from "../../server/src/document/document.js";
import { anyChart, usedFiles } from "../support/generate-chart.js";
import { property } from "../support/property.js";

property("One chord alone does what it does among all of its section", anyChart(), 60, (text) => {
  const alone = openDocument("chart.plagal", text, usedFiles).chart;
  const all = openDocument("chart.plagal", text, usedFiles).chart;
  alone.sections.forEach((placed, s) => {
    const functions = functionsOf(all, all.sections[s] as (typeof all.sections)[number]);
    placed.section.chords.forEach((event, i) => {
      expect(functionAt(alone, placed, event)).toEqual(functions[i]);
    });
  });
});
