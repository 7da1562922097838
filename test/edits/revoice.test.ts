import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { handGrips } from "../../server/src/chart/hand-grips.js";
import { type Document, openDocument } from "../../server/src/document/document.js";
import type { EditResult } from "../../server/src/edits/result.js";
import { revoice } from "../../server/src/edits/revoice.js";
import { applyEdits } from "../../server/src/text/edits.js";
import { chartText, edited } from "../support/edit-chart.js";
import { anyChart, usedFiles } from "../support/generate-chart.js";
import { property } from "../support/property.js";

const at = (reach: number) => (document: Document) => revoice(document, { left: reach, right: reach });
const said = (text: string, reach: number): readonly string[] => {
  const result: EditResult = at(reach)(openDocument("chart.plagal", chartText(text)));
  return "refused" in result ? [result.refused] : result.notes.map(({ message }) => message);
};

/** The chart at another reach must be `after`, with these words about it. */
function lighter(before: string, reach: number, after: string, ...words: readonly string[]): void {
  expect(edited(chartText(before), at(reach))).toBe(chartText(after));
  expect(said(before, reach)).toEqual(words);
}

describe("a stack that the hand can't hold", () => {
  test("loses what another octave has too", () =>
    lighter(
      `
      key     C major
      reach   9
      chords  | 1         |
      right   | 1+3+5+1+3 |
      left    | 1         |
      `,
      8,
      `
      key     C major
      reach   8
      chords  | 1        |
      right   | >3+5+1+3 |
      left    | 1        |
      `,
      "C4 E4 G4 C5 E5 in the right hand: C4 is left out.",
    ));

  test("takes a tone an octave nearer", () =>
    lighter(
      `
      key     C major
      reach   10
      chords  | 1      |
      left    | >1+5+3 |
      `,
      9,
      `
      key     C major
      reach   9
      chords  | 1      |
      left    | >1+3+5 |
      `,
      "C3 G3 E4 in the left hand: E4 goes down an octave.",
    ));

  test("gives a tone to the other hand where it would lie too low for this one", () =>
    lighter(
      `
      key     F major
      reach   10
      chords  | 5:7     |
      right   | <5+1    |
      left    | <1+b7+3 |
      `,
      8,
      `
      key     F major
      reach   8
      chords  | 5:7    |
      right   | <3+5+1 |
      left    | <1+b7  |
      `,
      "C2 B♭2 E3 in the left hand: E3 goes to the right hand.",
    ));

  test("is changed for every key that the form plays", () => {
    const text = `
      key     C major
      reach   11
      form    A A up half
      section A
      chords  | 1     |
      left    | >1+>3 |
      `;
    const nearer = "C3 E4 in the left hand: E4 goes down an octave.";
    expect(said(text, 9)).toEqual([nearer]);
    // In C a hand of ten holds this tenth, in D♭ it doesn't.
    expect(said(text, 10)).toEqual([nearer]);
    expect(said(text.replace("A A up half", "A"), 10)).toEqual([]);
  });

  test("is changed once for all bars that repeat it", () =>
    lighter(
      `
      key     C major
      reach   11
      chords  | 1     | 4 | 5 1   |
      left    | >1+>3 | % | 1 >1  |
      `,
      9,
      `
      key     C major
      reach   9
      chords  | 1    | 4 | 5 1  |
      left    | >1+3 | % | 1 >1 |
      `,
      "C3 E4 in the left hand: E4 goes down an octave.",
    ));

  test("is rolled where no change of a tone helps", () =>
    lighter(
      `
      key     C major
      reach   10
      chords  | 1     |
      left    | 1+>>3 |
      `,
      9,
      `
      key     C major
      reach   9
      chords  | 1      |
      left    | ~1+>>3 |
      `,
      "C2 E4 in the left hand: it is rolled now.",
    ));
});

test("a chart that lies under the hands only says their reach", () => {
  const text = chartText(`
    key     C major
    chords  | 1     |
    right   | 3+5+1 |
  `);
  expect(edited(text, at(8))).toBe(text.replace("major\n", "major\nreach   8\n"));
  expect(edited(text.replace("major\n", "major\nreach   8\n"), at(8))).toBe(
    "(Every stack of the chart lies under hands of that reach already.)",
  );
});

test("a hand that isn't named keeps its reach", () => {
  const text = chartText(`
    key     C major
    reach   left 10 right 10
    chords  | 1       |
    right   | 3+5+1+3 |
    left    | >1+>3   |
  `);
  expect(edited(text, (document) => revoice(document, { left: undefined, right: 8 }))).toBe(
    text.replace("left 10 right 10", "left 10 right 8"),
  );
});

test("a melody alone is never changed", () => {
  const text = `
    key    C major
    chords | 1    |
    lead   | C4+E5 |
    `;
  expect(said(text, 8)).toEqual([
    "The right hand can't hold C4 E5 at this reach, and no tone can go: voice it by hand.",
  ]);
});

/** Stacks of a hand that can't be held, by what a check says. */
const unheld = (text: string, reach: number): number =>
  openDocument("chart.plagal", text, usedFiles, {
    severities: {},
    reach: { left: reach, right: reach },
  }).problems.filter(({ code }) => code === "hand-span" || code === "too-many-notes").length;

property(
  "what was changed can be held, what can't be is said, and melody and top voices stay",
  fc.tuple(anyChart({ notation: "numbers" }), fc.constantFrom(7, 8, 9)),
  25,
  ([text, reach]) => {
    const document = openDocument("chart.plagal", text, usedFiles);
    const result = at(reach)(document);
    if ("refused" in result) {
      expect(unheld(text, reach)).toBe(0);
      return;
    }
    const now = applyEdits(text, result.edits);
    const left = result.notes.filter(({ message }) => message.includes("voice it by hand")).length;
    const used = document.chart.sections.some(({ path }) => path !== undefined);
    if (left === 0 && !used) expect(unheld(now, reach), now).toBe(0);
    expect(unheld(now, reach)).toBeLessThanOrEqual(unheld(text, reach));
    const after = openDocument("chart.plagal", now, usedFiles);
    document.chart.sections.forEach((placed, i) => {
      const other = after.chart.sections[i];
      if (placed.path !== undefined || other === undefined) return;
      for (const row of ["lead", "bass"] as const)
        expect(other.section.rows[row].notes.map(({ pitch }) => pitch)).toEqual(
          placed.section.rows[row].notes.map(({ pitch }) => pitch),
        );
      const tops = (section: typeof placed.section): readonly (number | undefined)[] =>
        handGrips(section, "right").map(({ keys }) => keys.at(-1));
      // A tone that goes to the right hand stands below what it has.
      expect(tops(other.section)).toEqual(tops(placed.section));
    });
  },
);
