import { describe, expect, test } from "vitest";
import { check, fix, fixTitles } from "../support/check-chart.js";

describe("no-chord", () => {
  test("tells of a number over NC", () => {
    check(
      "no-chord",
      `
      section A
      chords | 1   NC |
      left   | 1+5 5  |
                   ^ “5” counts from the chord, and no chord sounds here. Write one into the chords row, or write a letter or a number of the key (k5).
      `,
    );
  });

  test("counts a stretch without chords as one, over both hands, with the later places beside it", () => {
    check(
      "no-chord",
      `
      section A
      chords | 1     | NC    |
      right  | 3+5+1 | 3+5   |
                       ^ “3” counts from the chord, …
                         ~ “5” has no chord either.
      left   | 1     | 1 5   |
                       ~ “1” has no chord either.
                         ~ “5” has no chord either.
      `,
    );
  });

  test("tells of a system without chords", () => {
    check(
      "no-chord",
      `
      section A
      left | 1 | 5 |
             ^ “1” counts from the chord, …
                 ~ “5” has no chord either.
      `,
    );
  });

  test("begins a new stretch after each chord", () => {
    check(
      "no-chord",
      `
      section A
      chords | NC 1 | NC 4 |
      left   | 1  1 | 1  1 |
               ^ “1” counts …
                      ^ “1” counts …
      `,
    );
  });

  test("tells of the bass of a chord, 0, in any row", () => {
    check(
      "no-chord",
      `
      section A
      bass | 1 0 |
               ^ “0” counts from the chord, …
      `,
    );
  });

  test("tells of a c number in a row that counts from the key", () => {
    check(
      "no-chord",
      `
      section A
      lead | 1 c3 |
                ^ “3” counts from the chord, …
      `,
    );
  });

  test("charges = and % to what they repeat", () => {
    check(
      "no-chord",
      `
      section A
      chords | 1     | NC | NC |
      left   | 1     | %  | %  |
               ^ “1” counts from the chord, …
      `,
    );
    check(
      "no-chord",
      `
      section A
      chords | 1 NC |
      left   | 1 =  |
               ^ “1” counts from the chord, …
      `,
    );
  });

  test("has nothing to say of letters, of k numbers, of lead and bass, and of numbers over r", () => {
    check(
      "no-chord",
      `
      section A
      chords | 1     NC | 1     r     |
      right  | 3+5+1 k5 | C4+E4 3+5+1 |
      left   | 1     C2 | 1     1     |
      lead   | 1     2  | 3     2     |
      bass   | 1     1  | 1     1     |
      `,
    );
  });

  test("has nothing to say under a chord that can't be read", () => {
    check(
      "no-chord",
      `
      section A
      chords | 1:mja7 |
               ^^^^^^ unknown-chord: “1:mja7” is not a chord. …
      left   | 1      |
      `,
    );
  });

  test("tells of a push with no chord to come", () => {
    check(
      "no-chord",
      `
      section A
      chords | 1   4   |
      left   | 1+5 !1+5 |
                    ^ “1” is pushed into the next chord, and no chord follows in this section. Write lands with the degree that the section leads into, or take the ! away.
                      ~ “5” has no chord either.
      `,
    );
  });

  test("lets a push count from the chord on which the section lands", () => {
    check(
      "no-chord",
      `
      section A
      lands 1
      chords | 1   4    |
      left   | 1+5 !1+5 |
      `,
    );
  });

  test("counts from the key: k before each number", () => {
    fix(
      "no-chord",
      `
      section A
      chords | 1   | NC       |
      left   | 1   | 1 >5 _1+5 r |
      lead   | 1   | c2       |
      `,
      `
      section A
      chords | 1   | NC       |
      left   | 1   | k1 >k5 _k1+k5 r |
      lead   | 1   | k2       |
      `,
    );
  });

  test("offers no k for a bass or for a slip", () => {
    expect(fixTitles("no-chord", "section A\nleft | 1 0 |\n")).toEqual([]);
    expect(fixTitles("no-chord", "section A\nleft | 4~5 |\n")).toEqual([]);
    expect(fixTitles("no-chord", "section A\nleft | 4~C |\n")).toEqual([]);
    expect(fixTitles("no-chord", "section A\nleft | 5 |\n")).toEqual(["Count from the key: write k5"]);
  });

  test("takes the ! away where a chord sounds", () => {
    fix(
      "no-chord",
      `
      section A
      chords | 1   4     |
      left   | 1+5 !~1+5 |
      `,
      `
      section A
      chords | 1   4     |
      left   | 1+5 ~1+5 |
      `,
    );
    expect(fixTitles("no-chord", "section A\nchords | 1 NC |\nleft | 1 !1 |\n")).toEqual([]);
  });
});
