import { describe, expect, test } from "vitest";
import { check, fix, fixTitles } from "../support/check-chart.js";

describe("too-many-notes", () => {
  test("tells of seven keys in one hand, and leaves the span alone there", () => {
    check(
      "too-many-notes",
      `
      chords | 1             | 1 |
      right  | 1+2+3+4+5+6+7 | 1+2+3+4+5+6+7 |
               ^^^^^^^^^^^^^ The right hand would have to hold 7 keys at once, and a hand holds 6 at most: five fingers, and the thumb on two neighbours. …
                               ~~~~~~~~~~~~~ Here again.
      `,
    );
    check(
      "too-many-notes",
      `
      chords | 1               |
      right  | 1+3+5+1+3+5+1   |
               ^^^^^^^^^^^^^ The right hand would have to hold 7 keys at once, …
      `,
    );
  });

  test("lets six keys be held where the thumb has two neighbours", () => {
    check(
      "too-many-notes",
      `
      chords | 1           |
      right  | 1+2+3+5+6+1 |
               ^^^^^^^^^^^ other-keys: …
      `,
    );
  });

  test("lets a roll have any number of keys, but for those that stay down", () => {
    check("too-many-notes", "chords | 1 |\nright | ~1+2+3+4+5+6+7 |\n");
    check(
      "too-many-notes",
      `
      chords | 1                            |
      right  | ~1+2+3+4+5+6+7 _1+_2+_3+_4+_5+_6+_7 |
               ^^^^^^^^^^^^^^ The right hand would have to hold 7 keys at once, …
      `,
    );
  });

  test("counts what a _ holds from before", () => {
    check(
      "too-many-notes",
      `
      chords | 1    1                |
      right  | 1+3  _1+2+_3+4+5+6+7  |
                    ^^^^^^^^^^^^^^^ The right hand would have to hold 7 keys at once, …
      `,
    );
  });
});

describe("the fixes of too-many-notes", () => {
  const seven = "chords | 1 |\nright | 1+2+3+4+5+6+1 |\nleft | >1+5 |\n";

  test("give tones to the other hand, roll it, or leave out one that is doubled", () => {
    expect(fixTitles("too-many-notes", seven)).toEqual([
      "Give C4 to the left hand",
      "Roll it (~)",
      "Leave C4 out in the right hand",
    ]);
    fix("too-many-notes", seven, "chords | 1 |\nright | 2+3+4+5+6+1 |\nleft | >1+5+1 |\n");
    fix("too-many-notes", seven, seven.replace("1+2", "~1+2"), 1);
    fix("too-many-notes", seven, seven.replace("1+2", "2"), 2);
  });
});
