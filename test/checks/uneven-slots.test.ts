import { describe, expect, test } from "vitest";
import { check, fix, fixTitles } from "../support/check-chart.js";

describe("uneven-slots", () => {
  test("tells of five slots in four beats, in chords and in tones", () => {
    check(
      "uneven-slots",
      `
      section A
      chords | 1 / 4 / 5    |
               ^^^^^^^^^ 5 slots share a bar of 4/4, and that gives no plain notes and no triplets. Hold one longer (/), or put two into one slot with ( ).
      lead   | 1 2 3 4 5    |
               ^^^^^^^^^ 5 slots share a bar of 4/4, and that gives no plain notes and no triplets. Hold one longer (-), …
      left   | C2 - - - - - - |
               ^^^^^^^^^^^^^^ 7 slots share a bar of 4/4, …
      `,
    );
  });

  test("lets plain notes, dotted ones and triplets be", () => {
    check(
      "uneven-slots",
      `
      section A
      lead | 1 | 1 2 | 1 2 3 4 | 1 2 3 4 3 2 | 1 2 3 4 3 2 1 2 | 1 2 3 2 1 2 3 2 1 2 3 2 |

      time 3/4
      lead | 1 2 | 1 2 3 | 1 2 3 4 | 1 2 3 4 3 2 | (1 2 3) (1 2) 3 |
      time 6/8
      lead | 1 2 | 1 2 3 | 1 2 3 2 | 1 2 3 4 3 2 | (1 2) (1 2) |
      time 12/8
      lead | 1 2 3 4 | 1 2 | 1 2 3 4 3 2 | (1 2 3) - (3 2 1) (1 - 3) |
      time 5/4
      lead | 1 | 1 2 3 4 5 |
      time 7/8
      lead | 1 2 3 4 3 2 1 | (1 2) - 3 - 2 - 1 |
      time 4/2
      lead | 1 2 | 1 2 3 4 |
      `,
    );
  });

  test("tells of two slots in five beats: neither can be written as one note", () => {
    check(
      "uneven-slots",
      `
      time 5/4
      section A
      lead | 1 2 | (1 2) |
             ^^^ 2 slots share a bar of 5/4, …
                    ^^^ 2 slots share this group, …
      `,
    );
  });

  test("tells of a group that doesn't come out, and counts a bar of a row once", () => {
    check(
      "uneven-slots",
      `
      section A
      lead | (1 2 3 4 5) 1 (1 2 3 4 5) 1 |
              ^^^^^^^^^ 5 slots share this group, and that gives no plain notes …
      `,
    );
  });

  test("tells of triplets within triplets", () => {
    check(
      "uneven-slots",
      `
      section A
      lead | 1 2 3 (1 2 (1 2 3)) |
                         ^^^^^ 3 slots share this group, …
      `,
    );
  });

  test("looks into a pickup too", () => {
    check(
      "uneven-slots",
      `
      section A
      lead 1 2 (1 2 3 4 5) | 1 |
                ^^^^^^^^^ 5 slots share this group, …
      `,
    );
  });

  test("leaves words and cues alone", () => {
    check(
      "uneven-slots",
      `
      section A
      lead   | 1             | 1           |
      words  | slow          | low         |
      cue    | a b c d e     | softer now one more time |
      `,
    );
  });

  test("tells of slots too short to be counted", () => {
    const tail = "1 ".repeat(31);
    const slots = `( ( ( ( ${tail}1 ) ${tail}) ${tail}) ${tail}) 1`;
    check(
      "uneven-slots",
      `
      section A
      lead | ${slots} |
             ${"^".repeat(slots.length)} These slots are too short to be played, so the bar counts as empty. Write fewer of them.
      `,
    );
  });

  test("is silent where a slot can't be read, for nobody knows how many there are", () => {
    check(
      "uneven-slots",
      `
      section A
      lead | 1 2 3 4 ) |
                     ^ syntax: This “)” has no “(” …
      `,
    );
  });

  test("takes a hold away, or holds the last one longer, whichever gives plain notes", () => {
    fix("uneven-slots", "section A\nchords | 1 / / 4 / |\n", "section A\nchords | 1 / / 4 |\n");
    fix("uneven-slots", "section A\nchords | 1 // 4 / |\n", "section A\nchords | 1 // 4 |\n");
    fix("uneven-slots", "section A\nlead | 1 - 2 3 4 3 2 |\n", "section A\nlead | 1 - 2 3 4 3 2 - |\n");
    fix("uneven-slots", "section A\nlead | 1 2 3 4 5|\n", "section A\nlead | 1 2 3 (4 5)|\n");
    fix("uneven-slots", "section A\nlead | 1 2 3 4 5|\n", "section A\nlead | 1 2 3 4 5 -|\n", 1);
    fix("uneven-slots", "time 5/4\nsection A\nlead | 1 2 |\n", "time 5/4\nsection A\nlead | 1 2 - - - |\n");
  });

  test("offers what does, those with plain notes first", () => {
    expect(fixTitles("uneven-slots", "section A\nlead | 1 2 3 4 5 |\n")).toEqual([
      "Put the last two into one slot",
      "Hold the last one longer (-)",
    ]);
    expect(fixTitles("uneven-slots", "section A\nchords | 1 / / 4 / / / |\n")).toEqual([
      "Hold the last one longer (/)",
      "Take one / away",
      "Put the last two into one slot",
    ]);
  });

  test("mends groups inside, all of them at once", () => {
    fix(
      "uneven-slots",
      "section A\nlead | (1 2 3 4 5) 1 (1 2 3 4 5) 1 |\n",
      "section A\nlead | (1 2 3 (4 5)) 1 (1 2 3 (4 5)) 1 |\n",
    );
    fix("uneven-slots", "section A\nlead 1 (1 - 3 4 5) | 1 |\n", "section A\nlead 1 (1 3 4 5) | 1 |\n");
  });

  test("nests no group deeper than four", () => {
    expect(fixTitles("uneven-slots", "section A\nlead | ((((1 2 3 4 5) 1) 1) 1) 1 |\n")).toEqual([
      "Hold the last one longer (-)",
    ]);
  });
});
