import { describe, expect, test } from "vitest";
import { holdBack, lastTouched, touchedBetween } from "../../server/src/features/hold-back.js";
import { alone } from "../support/charts-of.js";
import { marked } from "../support/marked.js";

/** The codes of the problems that wait, where `⟦…⟧` was typed last. */
function held(chart: string): readonly string[] {
  const { text, span } = marked(chart);
  const document = alone(text).at("chart.plagal");
  const result = holdBack(document, span);
  const all = [...result.shown, ...result.held];
  expect(new Set(all)).toEqual(new Set(document.problems));
  expect(all).toHaveLength(document.problems.length);
  return result.held.map(({ code }) => code);
}
const shown = (chart: string): readonly string[] => {
  const { text, span } = marked(chart);
  return holdBack(alone(text).at("chart.plagal"), span).shown.map(({ code }) => code);
};

test("a half typed word has no problem until something else is typed", () => {
  expect(held("chords | 1 5:⟦q⟧ |\n")).toEqual(["unknown-chord"]);
  expect(held("chords | 1 5:q⟦ ⟧ |\n")).toEqual([]);
  expect(shown("chords | 1 5:q⟦ ⟧ |\n")).toEqual(["unknown-chord"]);
});

test("the whole word waits, where something was taken from it too", () => {
  expect(held("chords | 5:⟦⟧q |\n")).toEqual(["unknown-chord"]);
  expect(held("chords | 1 |\nright | 3+5+?⟦3⟧ |\n")).toEqual(["unknown-tone"]);
});

test("problems of other words, bars and lines are shown", () => {
  expect(shown("chords | 1 zz | 5:⟦q⟧ |\nchords | yy |\n")).toEqual(["unknown-chord", "unknown-chord"]);
});

test("a parenthesis yet to be closed waits with what is typed in its bar", () => {
  expect(held("chords | 1 |\nright | (3 ⟦5⟧ |\n")).toEqual(["syntax"]);
});

test("a row of too few bars waits while one of its system's rows is typed", () => {
  expect(held("chords | 1 | 4 | 5 |\nright | ⟦3⟧\n")).toEqual(["uneven-rows"]);
  expect(shown("chords | 1 | 4 | 5 |\nright | 3 |\n\nchords | ⟦1⟧ |\n")).toEqual(["uneven-rows"]);
});

test("several words at once, such as a paste, hold nothing back", () => {
  expect(held("chords | ⟦zz 5:q⟧ |\n")).toEqual([]);
  expect(held("⟦chords | zz |\n⟧")).toEqual([]);
});

describe("the place of the last change", () => {
  test("is that of the last edit, as long as its text", () => {
    expect(
      lastTouched([
        { span: { start: 9, end: 9 }, text: "a" },
        { span: { start: 2, end: 5 }, text: "bc" },
      ]),
    ).toEqual({ start: 2, end: 4 });
    expect(lastTouched([])).toBeUndefined();
  });

  test("is found between two texts", () => {
    expect(touchedBetween("| 1 4 |", "| 1 45 |")).toEqual({ start: 5, end: 6 });
    expect(touchedBetween("| 1 45 |", "| 1 4 |")).toEqual({ start: 5, end: 5 });
    expect(touchedBetween("aa", "aaa")).toEqual({ start: 2, end: 3 });
    expect(touchedBetween("a", "a")).toBeUndefined();
  });
});
