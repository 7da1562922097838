import { expect } from "vitest";
import { openDocument } from "../../server/src/document/document.js";
import { format } from "../../server/src/edits/format.js";
import { parse } from "../../server/src/syntax/parse.js";
import { applyEdits } from "../../server/src/text/edits.js";
import { anyChart, usedFiles } from "../support/generate-chart.js";
import { property } from "../support/property.js";
import { soundOf } from "../support/sounding.js";

const formatted = (text: string): string => applyEdits(text, format(parse(text)));

property("formatting once is enough", anyChart(), 80, (text) => {
  const once = formatted(text);
  expect(formatted(once)).toBe(once);
});

property("formatting is silent to the ear, and leaves the same problems", anyChart(), 80, (text) => {
  const before = openDocument("chart.plagal", text, usedFiles);
  const after = openDocument("chart.plagal", formatted(text), usedFiles);
  expect(soundOf(after.chart)).toBe(soundOf(before.chart));
  const told = (document: typeof before): string[] =>
    document.problems.map(({ code, message }) => `${code} ${message.replace(/\s+/g, " ")}`);
  expect(told(after)).toEqual(told(before));
});
