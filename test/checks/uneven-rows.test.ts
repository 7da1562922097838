import { describe, expect, test } from "vitest";
import { check, fix, fixTitles } from "../support/check-chart.js";

describe("uneven-rows", () => {
  test("tells of each row that stops early", () => {
    check(
      "uneven-rows",
      `
      section A
      chords | 1     | 4     | 5     |
      ~~~~~~ This row has 3.
      ~~~~~~ This row has 3.
      right  | 3+5+1 |
      ^^^^^ The right row has 1 bar and the chords and lead rows beside it have 3. The rest counts as empty: write it, or empty bars.
      left   | 1     | 1     |
      ^^^^ The left row has 2 bars and the chords and lead rows beside it have 3. …
      lead   | 1     | 4     | 5     |
      `,
    );
  });

  test("goes by what most rows have, so that one stray bar line is told of once, at its row", () => {
    check(
      "uneven-rows",
      `
      section A
      chords | 1     | 4     |
      ~~~~~~ This row has 2.
      right  | 3+5   | 1 | 1+3 |
      ^^^^^ The right row has 3 bars and the chords, left and bass rows beside it have 2. Look for a bar line too many, or give the other rows a bar more: there they count as empty.
      left   | 1     | 1     |
      bass   | 1     | 4     |
      `,
    );
    check(
      "uneven-rows",
      `
      section A
      chords | 1 | 4 | 5 | 1 |
      ^^^^^^ The chords row has 4 bars and the lead and left rows beside it have 2. Look for a bar line too many, or give the other rows bars more: …
      lead   | 1 | 4 |
      ~~~~ This row has 2.
      left   | 1 | 1 |
      `,
    );
  });

  test("goes by the chords where as many rows say one as the other, else by the longer ones", () => {
    check(
      "uneven-rows",
      `
      section A
      lead   | 1     | 2     | 3 |
      ^^^^ The lead row has 3 bars and the chords and words rows beside it have 2. …
      chords | 1     | 4     |
      ~~~~~~ This row has 2.
      ~~~~~~ This row has 2.
      words  | low   | and   |
      cue    |       | hold  | |
      ^^^ The cue row has 3 bars and the chords and words rows beside it have 2. …
      `,
    );
    check(
      "uneven-rows",
      `
      section A
      lead   | 1     | 2     |
      ~~~~ This row has 2.
      words  | low   |
      ^^^^^ The words row has 1 bar and the lead row beside it has 2. …
      `,
    );
  });

  test("doesn't let verses outvote the melody", () => {
    check(
      "uneven-rows",
      `
      section A
      chords | 1     | 4     |
      ~~~~~~ This row has 2.
      ~~~~~~ This row has 2.
      ~~~~~~ This row has 2.
      lead   | 1     | 2     |
      words  | low   |
      ^^^^^ The words row has 1 bar and the chords and lead rows beside it have 2. …
      words  | old   |
      ^^^^^ …
      words  | gold  |
      ^^^^^ …
      `,
    );
  });

  test("takes empty bars away, or adds some to the other rows", () => {
    const chart = "section A\nchords | 1 | 4 |\nlead | 1 | 2 |\n";
    fix("uneven-rows", `${chart}left | 1 | 1 | |\n`, `${chart}left | 1 | 1 |\n`);
    fix("uneven-rows", `${chart}left | 1 | 1 | |  | ; low\n`, `${chart}left | 1 | 1 | ; low\n`);
    fix(
      "uneven-rows",
      `${chart}left | 1 | 1 | 5 |\n`,
      "section A\nchords | 1 | 4 |   |\nlead | 1 | 2 |   |\nleft | 1 | 1 | 5 |\n",
    );
    expect(fixTitles("uneven-rows", `${chart}left | 1 | 1 | |\n`)).toEqual([
      "Take the empty bar away",
      "Add an empty bar to the other rows",
    ]);
    expect(fixTitles("uneven-rows", "section A\nchords | 1 |\nleft | 1 | 1 | 5 |\n")).toEqual([
      "Add 2 empty bars to chords",
    ]);
    expect(fixTitles("uneven-rows", `${chart}left | 1 | 1 | | 5 |\n`)).toHaveLength(1);
    expect(fixTitles("uneven-rows", `${chart}left | 1 | 1 | :|\n`)).toHaveLength(1);
  });

  test("compares within a system alone", () => {
    check(
      "uneven-rows",
      `
      section A
      chords | 1     | 4     |
      lead   | 1     | 2

      chords | 1     |
      lead   | 1     |
      `,
    );
  });

  test("leaves a row without bars to the reader", () => {
    check(
      "uneven-rows",
      `
      section A
      chords | 1     | 4     |
      lead 1 2
      ^^^^ syntax: This row has no bars. …
      `,
    );
  });

  test("tells of a repeat or an ending that the first row doesn't have there", () => {
    check(
      "uneven-rows",
      `
      section A
      chords | 1 | 4    | 5  |
      lead   |: 1 | 2   | 3  |
             ^^ “|:” has no meaning in this row: repeats and endings are those of the first row, and chords has no such sign here. Write it there, or take it away.
      left   | C2 | D2 :| C2 |
                       ^^ “:|” has no meaning in this row: …
      bass   | 1 | 1. 4 | 5  |
                   ^^ “1.” has no meaning in this row: …
      `,
    );
  });

  test("tells of another count or ending than the first row's", () => {
    check(
      "uneven-rows",
      `
      section A
      chords |: 1 | 1. 4 :|x3 2. 5  |
      lead   |: 1 | 1. 2 :|x2 2. 3  |
                         ^^^^ “:|x2” has no meaning in this row: repeats and endings are those of the first row, and chords has “:|x3” here. …
      left   |  C2 | 2. D2 :|  C2  |
                     ^^ “2.” has no meaning in this row: repeats and endings are those of the first row, and chords has “1.” here. …
      `,
    );
  });

  test("accepts the same sign, or none, in another row", () => {
    check(
      "uneven-rows",
      `
      section A
      chords |: 1  | 1. 4 :|x3 2. 5  ||
      lead   |: 1  | 1. 2 :|x3 2. 3  |
      left   |  C2 |    D2 :|     C2 ||
      bass   |  1  |    4  |      5  |
      `,
    );
  });

  test("adds empty bars, after a last bar that isn't closed too", () => {
    fix(
      "uneven-rows",
      `
      section A
      chords | 1 | 4 | 5 |
      lead   | 1 |  ; later
      `,
      `
      section A
      chords | 1 | 4 | 5 |
      lead   | 1 |   |   |  ; later
      `,
    );
    fix(
      "uneven-rows",
      `
      section A
      chords | 1 | 4 |
      lead   | 1  ; later
      `,
      `
      section A
      chords | 1 | 4 |
      lead   | 1 |   |  ; later
      `,
    );
  });

  test("takes the differing sign away, or writes that of the first row", () => {
    const chords = "section A\nchords |: 1 | 4 :|x3 5 |\n";
    fix("uneven-rows", `${chords}lead | 1 | 2 :|x2 3 |\n`, `${chords}lead | 1 | 2 :|x3 3 |\n`);
    fix("uneven-rows", `${chords}lead | 1 |: 2 :| 3 |\n`, `${chords}lead | 1 | 2 :| 3 |\n`);
    fix("uneven-rows", `${chords}lead | 1 | 1. 2 | 3 |\n`, `${chords}lead | 1 |  2 | 3 |\n`);
    fix("uneven-rows", `${chords}lead | 1 | 2 | 3 :|\n`, `${chords}lead | 1 | 2 | 3 |\n`);
    expect(fixTitles("uneven-rows", `${chords}lead | 1 | 1. 2 | 3 |\n`)).toEqual(["Take 1. away"]);
  });
});
