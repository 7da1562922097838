import fc from "fast-check";
import { expect } from "vitest";
import { openDocument } from "../../server/src/document/document.js";
import { type RewrittenRow, rewriteRows } from "../../server/src/edits/rewrite.js";
import { applyEdits } from "../../server/src/text/edits.js";
import { anyChart, usedFiles } from "../support/generate-chart.js";
import { property } from "../support/property.js";
import { soundOf } from "../support/sounding.js";

const all: readonly RewrittenRow[] = ["chords", "lead", "right", "left", "bass"];
const someRows = fc.subarray([...all], { minLength: 1 });

const open = (text: string) => openDocument("chart.plagal", text, usedFiles);

function rewritten(text: string, to: "numbers" | "letters", rows = all): string {
  const result = rewriteRows(open(text), to, rows);
  if ("refused" in result) throw new Error(result.refused);
  return applyEdits(text, result.edits);
}

for (const to of ["letters", "numbers"] as const) {
  property(`written in ${to} a chart sounds the same`, fc.tuple(anyChart(), someRows), 80, ([text, rows]) => {
    expect(soundOf(open(rewritten(text, to, rows)).chart)).toBe(soundOf(open(text).chart));
  });

  property(`writing in ${to} what is written so changes nothing`, anyChart(), 40, (text) => {
    const once = rewritten(text, to);
    expect(rewritten(once, to)).toBe(once);
  });
}

property("there and back sounds the same", anyChart(), 60, (text) => {
  const sound = soundOf(open(text).chart);
  expect(soundOf(open(rewritten(rewritten(text, "letters"), "numbers")).chart)).toBe(sound);
  expect(soundOf(open(rewritten(rewritten(text, "numbers"), "letters")).chart)).toBe(sound);
});

property(
  "there and back gives the same bytes where the canonical spelling was used",
  anyChart(),
  60,
  (text) => {
    // What the product itself writes is the canonical spelling.
    const numbers = rewritten(rewritten(text, "letters"), "numbers");
    const letters = rewritten(numbers, "letters");
    expect(rewritten(letters, "numbers")).toBe(numbers);
    expect(rewritten(rewritten(letters, "numbers"), "letters")).toBe(letters);
  },
);
