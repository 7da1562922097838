import { describe, expect, test } from "vitest";
import { prepareRename, rename } from "../../server/src/features/rename.js";
import { applyEdits, areApart } from "../../server/src/text/edits.js";
import { chartsOf } from "../support/charts-of.js";
import { atCursor } from "../support/marked.js";
import { withSpans } from "../support/with-spans.js";

const other = (path: string): boolean => path !== "chart.plagal";

/** The charts after the rename, others with their names before them; a refusal in parentheses. */
function renamed(chart: string, name: string, others: Readonly<Record<string, string>> = {}): string {
  const { text, cursor } = atCursor(chart);
  const charts = chartsOf({ ...others, "chart.plagal": text });
  const result = rename(charts.at("chart.plagal"), cursor, name, charts);
  if ("refused" in result) return `(${result.refused})`;
  expect(result.every(({ edits }) => areApart(edits))).toBe(true);
  expect(new Set(result.map(({ path }) => path)).size).toBe(result.length);
  const changed = new Map(result.map(({ path, edits }) => [path, applyEdits(charts.at(path).text, edits)]));
  const own = changed.get("chart.plagal") ?? charts.at("chart.plagal").text;
  return [own, ...[...changed].filter(([path]) => other(path)).map(([path, it]) => `${path}: ${it}`)].join(
    "",
  );
}

/** What would be renamed at the cursor, marked in the text; a refusal in parentheses. */
function prepared(chart: string, others: Readonly<Record<string, string>> = {}): string {
  const { text, cursor } = atCursor(chart);
  const charts = chartsOf({ ...others, "chart.plagal": text });
  const document = charts.at("chart.plagal");
  const found = prepareRename(document, cursor, charts);
  if ("refused" in found) return `(${found.refused})`;
  expect(document.text.slice(found.span.start, found.span.end)).toBe(found.placeholder);
  return withSpans(document.text, [found.span]);
}

describe("what can be renamed", () => {
  test("is a section's name, without its quotation marks, wherever it stands", () => {
    expect(prepared('section "Last ‸Verse"\n')).toBe('section "⟦Last Verse⟧"\n');
    expect(prepared('form "Last Verse"‸ x2\nsection Last Verse\n')).toBe(
      'form "⟦Last Verse⟧" x2\nsection Last Verse\n',
    );
  });

  test("is nothing else, and the player is told what is", () => {
    expect(prepared("chords | ‸1 |\n")).toBe(
      "(Only a section has a name to change. Put the cursor on one: in its section line, in form or in play.)",
    );
    expect(prepared("form Ver‸se\n")).toBe(
      "(No section is called Verse, so there is nothing to rename. Write the name of one that is there.)",
    );
  });
});

describe("a rename", () => {
  test("changes the section's line and every form and play that names it", () => {
    expect(renamed("form A B A x2\nsection ‸A\nchords | 1 |\nsection B\nplay A in Db\n", "Verse")).toBe(
      "form Verse B Verse x2\nsection Verse\nchords | 1 |\nsection B\nplay Verse in Db\n",
    );
  });

  test("goes from where the section is played, too", () => {
    expect(renamed("form A ‸B\nsection A\nsection B\n", "Tag")).toBe("form A Tag\nsection A\nsection Tag\n");
  });

  test("puts quotation marks where the new name needs them", () => {
    expect(renamed("form A x2\nsection ‸A\n", "Last Verse")).toBe(
      'form "Last Verse" x2\nsection Last Verse\n',
    );
    expect(renamed("form A\nsection ‸A\n", "up")).toBe('form "up"\nsection up\n');
    expect(renamed("form A\nsection ‸A\n", "x2")).toBe('form "x2"\nsection x2\n');
    expect(renamed("form A\nsection ‸A ; soft\n", "one ;two")).toBe(
      'form "one ;two"\nsection "one ;two" ; soft\n',
    );
  });

  test("takes quotation marks away where only the old name needed them", () => {
    expect(renamed('form "Last Verse" "A"\nsection ‸Last Verse\nsection A\n', "End")).toBe(
      'form End "A"\nsection End\nsection A\n',
    );
    expect(renamed('form "A"\nsection "‸A"\n', "End")).toBe('form "End"\nsection "End"\n');
  });

  test("takes the quotation marks of names beside it for theirs", () => {
    expect(renamed('form "x y" A "x y"\nsection ‸A\nsection x y\n', "B")).toBe(
      'form "x y" B "x y"\nsection B\nsection x y\n',
    );
    expect(renamed('form "x y" A "x y"\nsection ‸A\nsection x y\n', "B C")).toBe(
      'form "x y" "B C" "x y"\nsection B C\nsection x y\n',
    );
  });

  test("leaves the white space around a name alone", () => {
    expect(renamed("form  A   A\t; A\r\nsection   ‸A  ; A\r\n", " B ")).toBe(
      "form  B   B\t; A\r\nsection   B  ; A\r\n",
    );
  });

  test("writes quotation marks where the line would read otherwise without", () => {
    expect(renamed("form B in T‸ag\nsection Tag\nsection B\n", "Db")).toBe(
      'form B in "Db"\nsection Db\nsection B\n',
    );
  });

  test("to the name that it has changes nothing", () => {
    expect(renamed("section ‸A\n", "A")).toBe("section A\n");
  });

  test("of a second section with a name leaves what plays the first", () => {
    expect(renamed("form A\nsection A\nsection ‸A\n", "B")).toBe("form A\nsection A\nsection B\n");
  });
});

describe("across charts a rename", () => {
  test("changes the charts that use this one", () => {
    expect(
      renamed("section ‸Tag\nchords | 1 |\n", "Amen", {
        "song.plagal": 'use "chart.plagal"\nform Tag "Tag" x2\n',
        "own.plagal": 'use "chart.plagal"\nform Tag\nsection Tag\n',
        "apart.plagal": "form Tag\n",
      }),
    ).toBe('section Amen\nchords | 1 |\nsong.plagal: use "chart.plagal"\nform Amen "Amen" x2\n');
  });

  test("changes the chart that the section comes from, and what plays it there", () => {
    expect(
      renamed('use "tags.plagal"\nform T‸ag\n', "Amen", {
        "tags.plagal": "section Tag\nchords | 1 |\nsection End\nplay Tag\n",
      }),
    ).toBe('use "tags.plagal"\nform Amen\ntags.plagal: section Amen\nchords | 1 |\nsection End\nplay Amen\n');
  });
});

describe("a rename is refused", () => {
  test("without a name, and where the name can't be written", () => {
    expect(renamed("section ‸A\n", "  ")).toBe("(A section needs a name. Write at least one letter.)");
    expect(renamed("section ‸A\n", 'B"C')).toBe(
      "(A section's name stands on one line and has no quotation mark in it. Write it without.)",
    );
    expect(renamed("section ‸A\n", "B\nC")).toContain("one line");
  });

  test("where the chart has a section of that name", () => {
    expect(renamed("section ‸A\nsection B\n", "B")).toBe(
      "(This chart has a section B already. Choose another name.)",
    );
  });

  test("where a chart that plays it has a section of that name, its own or brought in", () => {
    expect(
      renamed("section ‸Tag\n", "Verse", {
        "song.plagal": 'title Low Tide\nuse "chart.plagal"\nform Tag\nsection Verse\n',
      }),
    ).toBe("(Low Tide plays this section and has another one called Verse. Choose another name.)");
    expect(
      renamed("section ‸Tag\n", "Amen", {
        "more.plagal": "section Amen\n",
        "song.plagal": 'use "chart.plagal"\nuse "more.plagal"\nform Tag\n',
      }),
    ).toBe("(song.plagal plays this section and has another one called Amen. Choose another name.)");
  });

  test("where the name means another chart's section that is played", () => {
    expect(
      renamed('use "more.plagal"\nform Amen Tag\nsection ‸Tag\n', "Amen", {
        "more.plagal": "section Amen\n",
      }),
    ).toBe(
      "(Amen is the name of a section that chart.plagal plays from another chart. Choose another name.)",
    );
  });

  test("where the section's chart can't be opened", () => {
    const { text, cursor } = atCursor('use "tags.plagal"\nform T‸ag\n');
    const charts = chartsOf({ "chart.plagal": text, "tags.plagal": "section Tag\n" });
    const shut = { ...charts, open: () => undefined };
    const result = rename(charts.at("chart.plagal"), cursor, "Amen", shut);
    expect("refused" in result && result.refused).toContain("can't be opened here");
  });
});
