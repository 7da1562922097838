import { describe, expect, test } from "vitest";
import { check, fix, fixTitles } from "../support/check-chart.js";

describe("missing-beat", () => {
  test("hints at three slots in a bar of four beats, in chords and in tones", () => {
    check(
      "missing-beat",
      `
      section A
      chords | 1 4 5   | 1 / 4 5 |
               ^^^^^ Three slots share a bar of four beats (4/4), so each lasts a third of it. If a beat is missing, hold one longer: write / after it.
      lead   | 1 2 3 4 | 1 2 (3 2) |
                         ^^^^^^^^^ Three slots share a bar of four beats (4/4), so each lasts a third of it. If a beat is missing, hold one longer: write - after it.
      `,
    );
  });

  test("hints in any meter of four beats, and in no other", () => {
    check(
      "missing-beat",
      `
      section A
      time 12/8
      lead | 1 2 3 |
             ^^^^^ Three slots share a bar of four beats (12/8), …
      time 4/8
      lead | 1 2 3 |
             ^^^^^ Three slots share a bar of four beats (4/8), …
      time 3/4
      lead | 1 2 3 |
      time 6/8
      lead | 1 2 3 |
      time 9/8
      lead | 1 2 3 |
      `,
    );
  });

  test("lets pickups, groups, words and cues have three", () => {
    check(
      "missing-beat",
      `
      section A
      lead  1 2 3 | 1 (1 2 3)    |
      words a b c | out on _ the |
      cue         | not so fast  |
      `,
    );
  });

  test("is silent where a slot can't be read", () => {
    check(
      "missing-beat",
      `
      section A
      lead | 1 2 12 |
                 ^^ unknown-tone: …
      `,
    );
  });

  test("holds each of the three in turn", () => {
    expect(fixTitles("missing-beat", "section A\nchords | 1 4 5 |\n")).toEqual([
      "Write 1 / 4 5",
      "Write 1 4 / 5",
      "Write 1 4 5 /",
    ]);
    fix("missing-beat", "section A\nchords | 1 4 5 |\n", "section A\nchords | 1 / 4 5 |\n");
    fix("missing-beat", "section A\nlead | 1 2 (3 2)|\n", "section A\nlead | 1 2 (3 2) -|\n", 2);
    expect(fixTitles("missing-beat", "section A\nlead | 1 - 2 |\n")).toEqual([
      "Write 1 - - 2",
      "Write 1 - 2 -",
    ]);
  });

  test("offers no place where a tone would lose its chord", () => {
    expect(
      fixTitles(
        "missing-beat",
        `
        section A
        chords | 1 / NC /      |
        left   | 1 5 r         |
        `,
      ),
    ).toEqual(["Write 1 5 - r", "Write 1 5 r -"]);
  });
});
