import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { format } from "../../server/src/edits/format.js";
import { parse } from "../../server/src/syntax/parse.js";
import { applyEdits } from "../../server/src/text/edits.js";
import type { Span } from "../../server/src/text/span.js";
import { sampleCharts } from "../support/sample-charts.js";

const formatted = (text: string, range?: Span): string => applyEdits(text, format(parse(text), range));

/** Chart before, chart after; the indentation that all lines share belongs to the test. */
function expectFormat(before: string, after: string): void {
  expect(formatted(dedent(before))).toBe(dedent(after));
  expect(formatted(dedent(after))).toBe(dedent(after));
}

function dedent(text: string): string {
  const lines = text.replace(/^\n/, "").replace(/ +$/, "").split("\n");
  const indent = Math.min(...lines.filter((line) => line !== "").map((line) => line.search(/\S|$/)));
  return lines.map((line) => line.slice(indent)).join("\n");
}

describe("rows", () => {
  test("bars are equally wide in every row, and slots at the same time stand below each other", () => {
    expectFormat(
      `
      chords | 1 5 | 4maj7 |
      right |3+5+1 _3+_5+9|9+5+7|
      left |    0      - | 1 5 8 |
      `,
      `
      chords  | 1     5       | 4maj7 |
      right   | 3+5+1 _3+_5+9 | 9+5+7 |
      left    | 0     -       | 1 5 8 |
      `,
    );
  });

  test("a whole system is lined up by its beats, and its words under the notes that they are sung on", () => {
    expectFormat(
      `
      chords | 1 5/7 6m7 / | 4maj7 1/3 | 2m7 5:9sus ||
      lead <5 <6 | 1 2 3 5 | 6 - 5 (3 2) | 4 - - (r 2) |
      right | 3+5+1 1+3+5 | 3+5+7 - 5+1+3 - | b3+5+b7 (b7+9+4 b7+3+5) |
      left | 1 0 1 5 | 1 0 | 1 = |
      words On a | slow eve- ning | we come home | now and |
      words So | still | _ wa- ter by | - here |
      `,
      `
      chords        | 1    5/7  6m7 / | 4maj7   1/3           | 2m7     5:9sus          ||
      lead    <5 <6 | 1    2    3   5 | 6     - 5     (3 2)   | 4 -     - (r 2)         |
      right         | 3+5+1     1+3+5 | 3+5+7 - 5+1+3 -       | b3+5+b7 (b7+9+4 b7+3+5) |
      left          | 1    0    1   5 | 1       0             | 1       =               |
      words   On a  | slow eve- ning  | we      come   home   | now          and        |
      words   So    | still           | _       wa-    ter by | - here                  |
      `,
    );
  });

  test("where rows part a bar differently, what comes later stands further right", () => {
    expectFormat(
      `
      chords | 1 4 5 |
      lead | 1 2 3 4 |
      left | 1 5 |
      bass | 1 2 3 4 5 |
      `,
      `
      chords  | 1   4   5   |
      lead    | 1  2  3  4  |
      left    | 1     5     |
      bass    | 1 2  3 4  5 |
      `,
    );
  });

  test("from and pickups end at the first bar line", () => {
    expectFormat(
      `
      chords | 1 |
      lead <5 <6 | 1 2 3 5 |
      right from  C4 5 | 3+5+1 |
      words so soft | and slow |
      `,
      `
      chords                  | 1         |
      lead            <5 <6   | 1   2 3 5 |
      right   from C4    5    | 3+5+1     |
      words           so soft | and slow  |
      `,
    );
  });

  test("an empty bar keeps its space, a double bar line stays one, an open last bar stays open", () => {
    expectFormat(
      `
      chords | 1 | | 4 || 5
      right | r|5  | 4| 5+1
      left | r| |
      `,
      `
      chords  | 1 |   | 4 || 5
      right   | r | 5 | 4 |  5+1
      left    | r |   |
      `,
    );
  });

  test("repeats stand stroke below stroke, endings in a column of their own", () => {
    expectFormat(
      `
      chords |: 1 4 |1. 5 :|x3 2. 5 | 1 :| x2
      right | 3 5| 5 | 5 | 1 |
      `,
      `
      chords  |: 1 4 | 1. 5 :|x3 2. 5 | 1 :| x2
      right   |  3 5 |    5  |      5 | 1  |
      `,
    );
  });

  test("a group keeps single spaces, a chord's parentheses keep theirs, two slashes stay together", () => {
    expectFormat(
      `
      chords | 1:7(#9,b13)  // 4 |
      lead |  ( 3   5  ) >(3 4   (1  2)) |
      `,
      `
      chords  | 1:7(#9,b13) // 4          |
      lead    | ( 3 5 )      >(3 4 (1 2)) |
      `,
    );
  });

  test("words keep one space between syllables, a cue the spaces that it has", () => {
    expectFormat(
      `
      lead | 1 2 | 3 |
      words | Ho-ly     | light |
      cue |   slower,   then hold | |
      `,
      `
      lead    | 1 2                 | 3     |
      words   | Ho-ly               | light |
      cue     | slower,   then hold |       |
      `,
    );
  });

  test("flats, marks on letters and pictures count as they are seen", () => {
    expectFormat(
      `
      chords | ♭7 | 4 | 5 |
      words | e\u0301 | 😀 | ab |
      `,
      `
      chords  | ♭7 | 4  | 5  |
      words   | e\u0301  | 😀 | ab |
      `,
    );
  });

  test("a comment ends its row two spaces after the last bar line", () => {
    expectFormat(
      `
      chords | 1 | 4 | ; settles;  slowly
      right |3+5| 1 |   ; here
      `,
      `
      chords  | 1   | 4 |  ; settles;  slowly
      right   | 3+5 | 1 |  ; here
      `,
    );
  });

  test("a line with only a comment doesn't end a system, and stays where it is", () => {
    expectFormat(
      `
      chords | 1 |
         ; the left hand rests
      right |3+5+1|
      `,
      `
      chords  | 1     |
         ; the left hand rests
      right   | 3+5+1 |
      `,
    );
  });

  test("a row name that stands already begins another system", () => {
    expectFormat(
      `
      chords | 1 |
      right | 3+5+1 |
      chords | 4maj7/5 |
      right | 1 |
      `,
      `
      chords  | 1     |
      right   | 3+5+1 |
      chords  | 4maj7/5 |
      right   | 1       |
      `,
    );
  });

  test("a system with a line that can't be read is left alone, the next one isn't", () => {
    expectFormat(
      `
      chords |1| ?? |
      right |3+5+1|

      chords |1|
      `,
      `
      chords |1| ?? |
      right |3+5+1|

      chords  | 1 |
      `,
    );
    expectFormat(
      `
      chords |1|
      rihgt |3+5+1|
      left |1|
      `,
      `
      chords |1|
      rihgt |3+5+1|
      left |1|
      `,
    );
  });
});

describe("other lines", () => {
  test("what follows the first word stands in one column, with single spaces but in printed words and names", () => {
    expectFormat(
      `
      title    Slow   Water   ; a sketch
      key F   major   (original  Ab)
        tempo 72
      time 3/4
      form A   "Two  words"   x2 in   Db
      use "a  b.plagal"
      section   My   Verse
      vamp
      lands   5
      play    "Two  words"   x2
      `,
      `
      title   Slow   Water  ; a sketch
      key     F major (original Ab)
      tempo   72
      time    3/4
      form    A "Two  words" x2 in Db
      use     "a  b.plagal"
      section My   Verse
      vamp
      lands   5
      play    "Two  words" x2
      `,
    );
  });

  test("a line with blank lines around has one space behind its first word", () => {
    expectFormat("key   C\n\n\nform   A B\n", "key C\n\n\nform A B\n");
  });

  test("a line that can't be read is left alone", () => {
    expectFormat("tempo   fast\nkey   C\n", "tempo   fast\nkey     C\n");
  });

  test("blank lines and comments lose the spaces at their ends, and tabs become spaces", () => {
    expectFormat("key\tC\n \t \n; slow  \t\n", "key C\n\n; slow\n");
  });
});

test("line ends stay as they are, each as it is", () => {
  expect(formatted("chords |1|\r\nright |3+5|\rleft |1|\n\r\nkey   C")).toBe(
    "chords  | 1   |\r\nright   | 3+5 |\rleft    | 1   |\n\r\nkey C",
  );
});

test("with a range only what it touches is laid out, a system as a whole", () => {
  const text = "key   C\n\nchords |1|\nright |3+5|\n\nchords |1|\n";
  const at = text.indexOf("right");
  expect(formatted(text, { start: at, end: at })).toBe(
    "key   C\n\nchords  | 1   |\nright   | 3+5 |\n\nchords |1|\n",
  );
});

test("an edit covers nothing but a run of spaces that changes", () => {
  const text = "chords  |  1 | 4 |\n";
  expect(format(parse(text))).toEqual([{ span: { start: 9, end: 11 }, text: " " }]);
});

test.each(sampleCharts)("%s is formatted", (name) => {
  const text = readFileSync(`test/charts/${name}`, "utf8");
  expect(formatted(text)).toBe(text);
});
