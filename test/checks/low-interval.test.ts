import { describe, expect, test } from "vitest";
import { check, fix, fixTitles } from "../support/check-chart.js";

describe("low-interval", () => {
  test("tells of a third that lies too low, with where it would be clear, once for a set of keys", () => {
    check(
      "low-interval",
      `
      section A
      left | C2+E2 C3+E3 | E2 C2+E2 | r - _C2+E2 - |
             ^^^^^ C2 and E2 lie too low to be clear. Keep a major third from B♭2 up, or move E2 up an octave.
                              ~~~~~ Here again.
      `.replace(" | r - _C2+E2 - |", " |"),
    );
  });

  test("lets fifths, octaves and tenths lie where they are clear", () => {
    check("low-interval", "section A\nleft | C2+G2 | C2+C3 | C2+E3 | Bb1+F2 |\n");
  });

  test("judges every key in which the form plays it, and names those that fail", () => {
    check(
      "low-interval",
      `
      form A A in G A down whole
      section A
      left | Eb3+F3 |
             ^^^^^^ E♭3 and F3 lie too low to be clear when played in G major and B♭ major. Keep a whole step from E♭3 up, …
      `,
    );
  });

  test("counts what is held", () => {
    check(
      "low-interval",
      `
      section A
      left | C2 _C2+E2 |
                ^^^^^^ C2 and E2 lie too low to be clear. …
      `,
    );
  });

  test("opens the voicing where that makes it clear", () => {
    fix("low-interval", "chords | 1 |\nleft | 1+3+5 |\n", "chords | 1 |\nleft | 1+>3+5 |\n");
    expect(fixTitles("low-interval", "left | C2+E2 |\n")).toEqual([]);
  });

  test("tells once of a text that = repeats under another chord", () => {
    check(
      "low-interval",
      `
      section A
      chords | 1 4   |
      left   | 1+3 = |
               ^^^ C2 and E2 lie too low to be clear. …
      `,
    );
  });
});
