import { expect, test } from "vitest";
import { formatRange } from "../../server/src/features/format-range.js";
import { applyEdits } from "../../server/src/text/edits.js";
import { alone } from "../support/charts-of.js";
import { marked } from "../support/marked.js";

const formatted = (chart: string): string => {
  const { text, span } = marked(chart);
  const document = alone(text).at("chart.plagal");
  return applyEdits(document.text, formatRange(document, span ?? { start: 0, end: 0 }));
};

test("a range lays out the whole system that it touches and no other line", () => {
  expect(formatted("key   C\nchords |1|\nright |3⟦+⟧5|\n\nchords |1|\n")).toBe(
    "key   C\nchords  | 1   |\nright   | 3+5 |\n\nchords |1|\n",
  );
});

test("whole lines that are selected end before the line that the range ends at", () => {
  expect(formatted("⟦chords |1|\n⟧key   C\nchords |4|\n")).toBe("chords  | 1 |\nkey   C\nchords |4|\n");
});

test("a range at the start of a line leaves the line before it", () => {
  expect(formatted("chords |1|\n⟦key   C\n⟧chords |4|\n")).toBe("chords |1|\nkey     C\nchords |4|\n");
});

test("an empty range is the line that it stands in", () => {
  expect(formatted("key   C\nchords |1|⟦⟧\n")).toBe("key   C\nchords  | 1 |\n");
});
