import fc from "fast-check";
import { expect } from "vitest";
import { outline } from "../../server/src/chart/outline.js";
import { unfold } from "../../server/src/chart/unfold.js";
import { openDocument } from "../../server/src/document/document.js";
import { format } from "../../server/src/edits/format.js";
import { rewriteRows } from "../../server/src/edits/rewrite.js";
import { transposeChart } from "../../server/src/edits/transpose.js";
import { transposeSection, transposeSelection } from "../../server/src/edits/transpose-part.js";
import { parse } from "../../server/src/syntax/parse.js";
import { print } from "../../server/src/syntax/print.js";
import { applyEdits, areApart, type Edit } from "../../server/src/text/edits.js";
import { anyChart, hostileText, usedFiles } from "../support/generate-chart.js";
import { anyText } from "../support/lines-arbitrary.js";
import { property } from "../support/property.js";

const anything = fc.oneof(
  anyChart(),
  hostileText,
  anyText,
  fc.string({ unit: "binary", maxLength: 300 }),
  fc.array(fc.nat({ max: 0xffff }), { maxLength: 200 }).map((units) => String.fromCharCode(...units)),
);

property("the tree of any text prints to it", anything, 400, (text) => {
  expect(print(parse(text))).toBe(text);
});

property("cutting a text into sections loses and doubles nothing", anything, 200, (text) => {
  const tree = parse(text);
  const { header, sections } = outline(tree);
  const parts = [header.map((line) => line.text).join(""), ...sections.map(({ source }) => source.text)];
  expect(parts.join("")).toBe(text);
  for (const { source, offset, firstLine } of sections) {
    expect(tree.starts[firstLine]).toBe(offset);
    expect(source.lines.map((line) => line.text).join("")).toBe(source.text);
  }
});

/** An edit that a text can take. */
function expectFits(text: string, edits: readonly Edit[]): void {
  expect(areApart(edits)).toBe(true);
  for (const { span } of edits) {
    expect(span.start).toBeGreaterThanOrEqual(0);
    expect(span.end).toBeGreaterThanOrEqual(span.start);
    expect(span.end).toBeLessThanOrEqual(text.length);
  }
  applyEdits(text, edits);
}

property("no text makes any answer throw, and every span lies inside it", anything, 400, (text) => {
  const document = openDocument("chart.plagal", text, usedFiles);
  const { chart, problems, tree } = document;
  unfold(chart);
  for (const { span, message, fixes, related } of problems) {
    expect(message).not.toMatch(/undefined|NaN|\[object/);
    expect(span.start).toBeGreaterThanOrEqual(0);
    expect(span.end).toBeGreaterThanOrEqual(span.start);
    expect(span.end).toBeLessThanOrEqual(text.length);
    for (const fix of fixes) expectFits(text, fix.edits);
    for (const it of related) expect(it.span.end).toBeLessThanOrEqual(text.length);
  }
  expectFits(text, format(tree));
  const results = [
    ...[-6, 3, 20].map((tonic) => transposeChart(document, { tonic, mode: undefined })),
    transposeChart(document, { tonic: 1, mode: "minor" }),
    rewriteRows(document, "letters", ["chords", "lead", "right", "left", "bass"]),
    rewriteRows(document, "numbers", ["chords", "lead", "right", "left", "bass"]),
    ...chart.sections
      .slice(0, 1)
      .map((placed) => transposeSection(document, placed, { tonic: -4, mode: undefined })),
    transposeSelection(
      document,
      { start: text.length >> 2, end: text.length >> 1 },
      { tonic: 2, mode: undefined },
    ),
  ];
  for (const result of results) if ("edits" in result) expectFits(text, result.edits);
});
