import { expect, test } from "vitest";
import { references } from "../../server/src/features/references.js";
import { chartsOf } from "../support/charts-of.js";
import { atCursor } from "../support/marked.js";
import { markedLines, withSpans } from "../support/with-spans.js";

function places(
  chart: string,
  others: Readonly<Record<string, string>> = {},
  withOpening = true,
): readonly string[] {
  const { text, cursor } = atCursor(chart);
  const charts = chartsOf({ ...others, "chart.plagal": text });
  return references(charts.at("chart.plagal"), cursor, charts, withOpening).map(({ path, span }) => {
    const [line] = markedLines(withSpans(charts.at(path).text, [span]));
    return path === "chart.plagal" ? (line ?? "") : `${path}: ${line}`;
  });
}

test("a section's uses are those of form and play, after its own line", () => {
  const chart = "form A ‸B A\nsection A\nplay B x2\nchords | 1 |\nsection B\nchords | 1 |\n";
  expect(places(chart)).toEqual(["section ⟦B⟧", "form A ⟦B⟧ A", "play ⟦B⟧ x2"]);
  expect(places(chart, {}, false)).toEqual(["form A ⟦B⟧ A", "play ⟦B⟧ x2"]);
});

test("charts that use this one are looked through, and those with a section of that name aren't", () => {
  const others = {
    "song.plagal": 'use "chart.plagal"\nform Tag\n',
    "own.plagal": 'use "chart.plagal"\nform Tag\nsection Tag\nchords | 1 |\n',
    "apart.plagal": "form Tag\n",
  };
  expect(places("section ‸Tag\nchords | 4 1 |\n", others)).toEqual([
    "section ⟦Tag⟧",
    "song.plagal: form ⟦Tag⟧",
  ]);
});

test("a section of another chart is found from where it is played", () => {
  const others = { "tags.plagal": "section Tag\nchords | 1 |\nsection Amen\nplay Tag\n" };
  expect(places('use "tags.plagal"\nform T‸ag\n', others)).toEqual([
    "tags.plagal: section ⟦Tag⟧",
    "form ⟦Tag⟧",
    "tags.plagal: play ⟦Tag⟧",
  ]);
});

test("a path's uses are those of the same chart everywhere", () => {
  const others = { "tags.plagal": "section Tag\n", "b.plagal": 'use "tags.plagal"\nuse "none.plagal"\n' };
  expect(places('use "tags‸.plagal"\n', others)).toEqual([
    'use "⟦tags.plagal⟧"',
    'b.plagal: use "⟦tags.plagal⟧"',
  ]);
  expect(places('use "none‸.plagal"\n', others)).toEqual([]);
});

test("a second section of a name has no uses, and nothing else has any", () => {
  expect(places("form A\nsection A\nchords | 1 |\nsection ‸A\nchords | 1 |\n")).toEqual(["section ⟦A⟧"]);
  expect(places("chords | ‸1 1 |\n")).toEqual([]);
});
