import { expect, test } from "vitest";
import { highlights } from "../../server/src/features/highlights.js";
import { alone } from "../support/charts-of.js";
import { atCursor } from "../support/marked.js";
import { markedLines, withSpans } from "../support/with-spans.js";

const shown = (chart: string): readonly string[] => {
  const { text, cursor } = atCursor(chart);
  const document = alone(text).at("chart.plagal");
  const found = highlights(document, cursor).map(({ span }) => span);
  return markedLines(withSpans(document.text, found));
};

test("a section's name is lit wherever it stands", () => {
  expect(shown("form A B ‸A\nsection A\nchords | 1 |\nsection B\nplay A\n")).toEqual([
    "form ⟦A⟧ B ⟦A⟧",
    "section ⟦A⟧",
    "play ⟦A⟧",
  ]);
  expect(shown("form No ‸No A\nsection A\n")).toEqual(["form ⟦No⟧ ⟦No⟧ A"]);
  expect(shown("form A\nsection A\nsection ‸A\n")).toEqual(["section ⟦A⟧"]);
});

test("a chord is lit wherever the section has it, however it is written", () => {
  expect(shown("chords | ‸1 4 | C 1:7 |\n\nchords | % | 1 / |\n\nsection Other\nchords | 1 |\n")).toEqual([
    "chords | ⟦1⟧ 4 | ⟦C⟧ 1:7 |",
    "chords | % | ⟦1⟧ / |",
  ]);
  expect(shown("chords | 1 4 ‸/ 1 |\n")).toEqual(["chords | 1 ⟦4⟧ / 1 |"]);
  expect(shown("chords | 1 ‸r |\n")).toEqual([]);
});

test("a note is lit with what holds it, from either", () => {
  const lit = ["right | 3+⟦5⟧ ⟦-⟧ _3+⟦_5⟧ 5 |"];
  expect(shown("chords | 1 |\nright | 3+‸5 - _3+_5 5 |\n")).toEqual(lit);
  expect(shown("chords | 1 |\nright | 3+5 - _3+_‸5 5 |\n")).toEqual(lit);
});

test("a hold is lit with all that it holds", () => {
  expect(shown("chords | 1 |\nright | 3+5 ‸- - 5 |\n")).toEqual(["right | ⟦3⟧+⟦5⟧ ⟦-⟧ ⟦-⟧ 5 |"]);
});

test("a repeat is lit with what it repeats", () => {
  expect(shown("chords | 1 |\nright | 3+5 ‸= |\n")).toEqual(["right | ⟦3⟧+⟦5⟧ ⟦=⟧ |"]);
});

test("nothing else is lit", () => {
  expect(shown("tit‸le A\nchords | 1 |\n")).toEqual([]);
});
