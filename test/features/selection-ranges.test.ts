import { expect, test } from "vitest";
import { selectionRanges } from "../../server/src/features/selection-ranges.js";
import { alone } from "../support/charts-of.js";
import { atCursor } from "../support/marked.js";

/** The texts that are selected one after the other. */
const selected = (chart: string): readonly string[] => {
  const { text, cursor } = atCursor(chart);
  const document = alone(text).at("chart.plagal");
  return selectionRanges(document, cursor).map(({ start, end }) => document.text.slice(start, end));
};

test("a selection grows from the tone over stack, group, bar, row, system and section to the chart", () => {
  const chart = `
    key C

    section Verse
    chords | 1 | 4 |
    right  | 1 (3+‸b7 (5 1)) | 1 | ; softly

    chords | 1 |

    section Tag
    chords | 1 |
  `;
  expect(selected(chart)).toEqual([
    "b7",
    "3+b7",
    "(3+b7 (5 1))",
    "1 (3+b7 (5 1))",
    " 1 (3+b7 (5 1)) ",
    "right  | 1 (3+b7 (5 1)) | 1 |",
    "right  | 1 (3+b7 (5 1)) | 1 | ; softly",
    "chords | 1 | 4 |\nright  | 1 (3+b7 (5 1)) | 1 | ; softly",
    "section Verse\nchords | 1 | 4 |\nright  | 1 (3+b7 (5 1)) | 1 | ; softly\n\nchords | 1 |",
    "key C\n\nsection Verse\nchords | 1 | 4 |\nright  | 1 (3+b7 (5 1)) | 1 | ; softly\n\nchords | 1 |\n\nsection Tag\nchords | 1 |\n",
  ]);
});

test("a chord's quality is selected before the chord", () => {
  expect(selected("chords | 5:9s‸us/2 |\n").slice(0, 3)).toEqual(["9sus", "5:9sus/2", " 5:9sus/2 "]);
});

test("a name in the form is selected before the words that move it, and the form before the header", () => {
  expect(selected('title A\nform Verse "Last ‸Verse" x2 in Db\n')).toEqual([
    "Last Verse",
    '"Last Verse"',
    '"Last Verse" x2 in Db',
    'form Verse "Last Verse" x2 in Db',
    'title A\nform Verse "Last Verse" x2 in Db',
    'title A\nform Verse "Last Verse" x2 in Db\n',
  ]);
});

test("a moved chart's key is selected before what it was", () => {
  expect(selected("key E‸b major (original C)\n")).toEqual([
    "Eb",
    "Eb major",
    "Eb major (original C)",
    "key Eb major (original C)",
    "key Eb major (original C)\n",
  ]);
});

test("in an empty text all of it is selected", () => {
  expect(selected("‸")).toEqual([""]);
});
