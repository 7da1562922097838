import { expect, test } from "vitest";
import { openDocument } from "../../server/src/document/document.js";
import { fixAll } from "../../server/src/features/fix-all.js";
import { applyEdits } from "../../server/src/text/edits.js";
import { acted, changed, offered, openMarked } from "../support/change-chart.js";
import { chartText } from "../support/edit-chart.js";

const titles = (chart: string, only?: readonly string[]): readonly string[] =>
  offered(chart, only === undefined ? {} : { only }).map(({ title }) => title);

const harbour = `
  key G
  section Verse
  chords | 1 | 6‸7 | 4 |
  section Tag
  chords | 2 | 5 |
  `;

test("a problem under the cursor offers its fixes, the best one preferred, with the problem", () => {
  const [first] = offered(harbour, { only: ["quickfix"] });
  expect(first?.title).toBe("Write 6:7");
  expect(first?.isPreferred).toBe(true);
  expect(first?.problem?.code).toBe("run-together");
  expect(acted(harbour, "Write 6:7")).toContain("| 6:7 |");
});

test("of several fixes of a problem one is preferred", () => {
  const fixes = offered("section A\nchords | 4‸5 |\n", { only: ["quickfix"] });
  expect(fixes.length).toBeGreaterThan(1);
  expect(fixes.map(({ isPreferred }) => isPreferred)).toEqual(fixes.map((_, i) => i === 0));
});

test("a problem elsewhere offers nothing here", () => {
  expect(titles("section A\nchords | 67 | 4‸ |\n", ["quickfix"])).toEqual([]);
});

test("fixing all mends what can't be heard and nothing else", () => {
  const chart = `
    section Verse‸
    chords | 67 | 1 |
    right  | <!3 | kk9 |
  `;
  expect(acted(chart, "Fix all that can't be heard")).toBe(
    chartText(`
    section Verse
    chords | 6:7 | 1 |
    right  | !<3 | kk9 |
  `),
  );
  expect(titles("section V‸\nchords | 1 |\n", ["source.fixAll"])).toEqual([]);
});

test("fixing all changes no more than the tokens, so the cursor keeps its place", () => {
  const { text, problems } = openDocument("chart.plagal", "section A\nchords | 67 | 1 |\n");
  expect(problems.length).toBeGreaterThan(0);
  const edits = fixAll(openDocument("chart.plagal", text));
  expect(edits).toEqual([{ span: { start: 20, end: 20 }, text: ":" }]);
});

test("without being asked for more, a move is a half step up or down", () => {
  expect(titles(harbour, ["refactor"]).filter((it) => it.startsWith("Move"))).toEqual([
    "Move the chart to A♭ major, up a half step",
    "Move the chart to G♭ major, down a half step",
  ]);
});

test("on the key line every other key is offered", () => {
  expect(titles("key ‸Eb\nsection A\nchords | 1 |\n").filter((it) => it.startsWith("Move"))).toEqual([
    "Move the chart to E major, up a half step",
    "Move the chart to F major, up a whole step",
    "Move the chart to G♭ major, up a minor third",
    "Move the chart to G major, up a major third",
    "Move the chart to A♭ major, up a fourth",
    "Move the chart to A major, down a tritone",
    "Move the chart to B♭ major, down a fourth",
    "Move the chart to B major, down a major third",
    "Move the chart to C major, down a minor third",
    "Move the chart to D♭ major, down a whole step",
    "Move the chart to D major, down a half step",
  ]);
});

test("asked for moves, an editor gets those of the chart and of the section", () => {
  const moves = titles(harbour, ["refactor.move"]);
  expect(moves.length).toBe(22);
  expect(moves[11]).toBe("Move this section to A♭ major, up a half step");
});

test("a chart moves in its key line and its letters", () => {
  const chart = `
    key ‸G
    section Verse
    chords | G | D/F# |
    right  | 3 | B3  |
  `;
  expect(acted(chart, "Move the chart to B♭ major")).toBe(
    chartText(`
    key Bb (original G)
    section Verse
    chords | Bb | F/A |
    right  | 3 | D4  |
  `),
  );
});

test("a section moves with a key line of its own", () => {
  expect(acted(harbour, "Move this section to A major", { only: ["refactor.move"] })).toBe(
    chartText(`
    key G
    section Verse
    key A major
    chords | 1 | 67 | 4 |
    section Tag
    chords | 2 | 5 |
  `),
  );
});

test("a selection moves alone, and its old key comes back after it", () => {
  const chart = `
    section Verse
    chords | 1 | 4 |

    chords | ⟦5 | 1⟧ |

    chords | 6 | 4 |
  `;
  expect(titles(chart, ["refactor"]).filter((it) => it.startsWith("Move"))).toEqual([
    "Move the selected bars to D♭ major, up a half step",
    "Move the selected bars to B major, down a half step",
  ]);
  expect(acted(chart, "Move the selected bars to D♭ major")).toBe(
    chartText(`
    section Verse
    chords | 1 | 4 |

    key Db major
    chords | 5 | 1 |
    key C major

    chords | 6 | 4 |
  `),
  );
});

test("a move that can't be made says why", () => {
  const { document, span } = openMarked("key H‸\nsection A\nchords | C |\n");
  const action = offered("key H‸\nsection A\nchords | C |\n", { only: ["refactor.move"] })[0];
  expect(span.start).toBe(5);
  expect(changed(document, action?.change() ?? { refused: "" })).toMatch(
    /^\(The key in line 1 can't be read/,
  );
});

test("a row is offered in its other notation, for its section and for the chart", () => {
  expect(titles(harbour, ["refactor.rewrite"]).filter((it) => !it.startsWith("Voice"))).toEqual([
    "Write the chords of this section as letters",
    "Write the chords of the chart as letters",
    "Practise in twelve keys, round the fourths",
    "Practise in twelve keys, up by half steps",
    "Practise in twelve keys, in a shuffled order",
  ]);
  expect(acted(harbour, "Write the chords of this section as letters")).toBe(
    chartText(`
    key G
    section Verse
    chords | G | E7 | C |
    section Tag
    chords | 2 | 5 |
  `),
  );
  expect(acted(harbour, "Write the chords of the chart as letters")).toContain("| Am | D |");
});

test("a row in both notations is offered in both", () => {
  expect(titles("section A\nchords | 1 | G‸ |\n").filter((it) => it.startsWith("Write"))).toEqual([
    "Write the chords of the chart as letters",
    "Write the chords of the chart as numbers",
  ]);
});

test("anything at any place is answered without a throw", () => {
  for (const chart of ["", "\n", "key", "chords", "|", "form", "section A\nchords | 1 |"]) {
    const document = openDocument("chart.plagal", chart);
    for (let at = 0; at <= chart.length; at++) {
      for (const action of actionsAt(document, at)) changed(document, action.change());
    }
  }
  expect(applyEdits("", [])).toBe("");
});

const actionsAt = (document: ReturnType<typeof openDocument>, at: number) =>
  offered(`${document.text.slice(0, at)}‸${document.text.slice(at)}`, {
    only: ["quickfix", "refactor", "refactor.move", "refactor.rewrite", "source"],
  });
