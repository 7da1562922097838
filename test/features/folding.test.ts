import { expect, test } from "vitest";
import { folding } from "../../server/src/features/folding.js";
import { alone } from "../support/charts-of.js";

/** Each fold with its first and last line as they stand in the text. */
const folds = (text: string): readonly string[] => {
  const document = alone(text).at("chart.plagal");
  const lines = document.text.split("\n");
  return folding(document).map(
    ({ kind, firstLine, lastLine }) => `${kind}: ${lines[firstLine]} … ${lines[lastLine]}`,
  );
};

test("the header, sections, systems and comments fold, without the blank lines after them", () => {
  expect(
    folds(`
      ; a tune for the evening
      ; two pages
      title Harbour Evening
      key G

      section Verse
      chords | 1 | 4 |
      ; a remark
      left   | 1 | 1 |

      chords | 5 |
      right  | 3 |


      ; of the end
      ; slowly
      section Tag
      chords | 1 |
    `),
  ).toEqual([
    "comment: ; a tune for the evening … ; two pages",
    "header: title Harbour Evening … key G",
    "section: section Verse … right  | 3 |",
    "system: chords | 1 | 4 | … left   | 1 | 1 |",
    "system: chords | 5 | … right  | 3 |",
    "comment: ; of the end … ; slowly",
    "section: section Tag … chords | 1 |",
  ]);
});

test("a row that stands in the system already starts the next one; verses are one system", () => {
  expect(
    folds("section A\nchords | 1 |\nlead | 1 |\nwords | a |\nwords | b |\nchords | 4 |\nlead | 1 |\n"),
  ).toEqual([
    "section: section A … lead | 1 |",
    "system: chords | 1 | … words | b |",
    "system: chords | 4 | … lead | 1 |",
  ]);
});

test("a section without a name folds at its first row, which folds nothing else", () => {
  expect(folds("chords | 1 |\nleft | 1 |\n\nchords | 1 |\nleft | 1 |\n")).toEqual([
    "section: chords | 1 | … left | 1 |",
    "system: chords | 1 | … left | 1 |",
  ]);
});

test("a line alone doesn't fold", () => {
  expect(folds("title A\n\nsection B\n\n\n; c\n")).toEqual(["section: section B … ; c"]);
  expect(folds("")).toEqual([]);
});
