import { describe, expect, test } from "vitest";
import { definition } from "../../server/src/features/definition.js";
import { chartsOf } from "../support/charts-of.js";
import { atCursor } from "../support/marked.js";
import { markedLines, withSpans } from "../support/with-spans.js";

/** The lines that the place at the cursor leads to, marked, with their chart where it is another. */
function leadsTo(chart: string, others: Readonly<Record<string, string>> = {}): readonly string[] {
  const { text, cursor } = atCursor(chart);
  const charts = chartsOf({ ...others, "chart.plagal": text });
  const found = definition(charts.at("chart.plagal"), cursor, charts);
  return (found?.targets ?? []).map(({ path, span, whole }) => {
    expect(whole.start <= span.start && span.end <= whole.end).toBe(true);
    const [line] = markedLines(withSpans(charts.at(path).text, [span]));
    return path === "chart.plagal" ? (line ?? "") : `${path}: ${line}`;
  });
}

describe("names", () => {
  test("in form and play lead to the section's line", () => {
    expect(leadsTo('section "Last Verse"\nchords | 1 |\nform "Last‸ Verse" x2\n')).toEqual([
      'section "⟦Last Verse⟧"',
    ]);
    expect(leadsTo("section A\nchords | 1 |\nsection B\nplay ‸A\n")).toEqual(["section ⟦A⟧"]);
  });

  test("lead across charts, also to what another chart plays", () => {
    const others = {
      "tags.plagal": 'use "deep.plagal"\nsection Tag\nplay Amen\n',
      "deep.plagal": "title D\nsection Amen\nchords | 4 |\n",
    };
    expect(leadsTo('use "tags.plagal"\nform ‸Tag\n', others)).toEqual(["tags.plagal: section ⟦Tag⟧"]);
    expect(leadsTo('use "tags.plagal"\nform A‸men\n', others)).toEqual(["deep.plagal: section ⟦Amen⟧"]);
  });

  test("that nobody has lead nowhere", () => {
    expect(leadsTo("form V‸erse\n")).toEqual([]);
  });

  test("a section's own line leads to itself, also where an earlier one has its name", () => {
    expect(leadsTo("section A\nsection ‸A\n")).toEqual(["section ⟦A⟧"]);
  });
});

test("a path leads to its chart, if there is one", () => {
  expect(leadsTo('use "tags‸.plagal"\n', { "tags.plagal": "section Tag\n" })).toEqual([
    "tags.plagal: ⟦⟧section Tag",
  ]);
  expect(leadsTo('use "none‸.plagal"\n')).toEqual([]);
});

describe("signs", () => {
  test("a slash leads to the chord that goes on, over lines too", () => {
    expect(leadsTo("chords | 1 4:7 ‸/ |\n")).toEqual(["chords | 1 ⟦4:7⟧ / |"]);
    expect(leadsTo("chords | 1 4:7 |\n\nchords | ‸/ 1 |\n")).toEqual(["chords | 1 ⟦4:7⟧ |"]);
  });

  test("a dash leads to the slot that is held", () => {
    expect(leadsTo("chords | 1 |\nright | 3+5 - ‸- 1 |\n")).toEqual(["right | ⟦3+5⟧ - - 1 |"]);
    expect(leadsTo("right | r ‸- |\n")).toEqual([]);
  });

  test("a held tone leads to the one that was struck", () => {
    expect(leadsTo("chords | 1 |\nright | 3+5 _3+_‸5 |\n")).toEqual(["right | 3+⟦5⟧ _3+_5 |"]);
  });

  test("an equals sign leads to the slot that it repeats, a percent sign to the bar", () => {
    expect(leadsTo("chords | 1 |\nright | 3+5 ‸= |\n")).toEqual(["right | ⟦3+5⟧ = |"]);
    expect(leadsTo("chords | 1 | 1 |\nright | 3+5 - 1 r | ‸% |\n")).toEqual(["right | ⟦3+5 - 1 r⟧ | % |"]);
    expect(leadsTo("chords | 1 4 | ‸% |\n")).toEqual(["chords | ⟦1 4⟧ | % |"]);
  });
});

describe("tones", () => {
  test("a number leads to the chord that it counts from, a pushed one to the chord that it comes before", () => {
    expect(leadsTo("chords | 1 5:7 |\nright | 3 ‸b7 |\n")).toEqual(["chords | 1 ⟦5:7⟧ |"]);
    expect(leadsTo("chords | 1 5:7 |\nright | 3 1 1 !‸b7 |\nchords | 4 |\n")).toEqual(["chords | ⟦4⟧ |"]);
  });

  test("a number that counts from the key and a letter lead nowhere", () => {
    expect(leadsTo("chords | 1 |\nlead | ‸3 |\n")).toEqual([]);
    expect(leadsTo("chords | 1 |\nright | k‸3 |\n")).toEqual([]);
    expect(leadsTo("chords | 1 |\nright | ‸E |\n")).toEqual([]);
  });

  test("the chord's bass leads to the chord in any row", () => {
    expect(leadsTo("chords | 1/3 |\nbass | ‸0 |\n")).toEqual(["chords | ⟦1/3⟧ |"]);
  });
});
