import { describe, expect, test } from "vitest";
import { openDocument } from "../../server/src/document/document.js";
import { check, fix } from "../support/check-chart.js";

describe("jump", () => {
  test("tells of a melody that crosses the edge of its home octave", () => {
    check(
      "jump",
      `
      section A
      chords | 1   | 5 |
      lead   | 1 7 | 2 - |
                 ^ The melody leaps from C4 to B4, and B3 lies nearer. Put < before it if you mean that one.
                     ^ The melody leaps from B4 to D4, and D5 lies nearer. Put > before it if you mean that one.
      `,
    );
  });

  test("tells of the right hand's top, and moves the whole stack", () => {
    const before = "section A\nchords | 1   | 5     |\nright  | 5+3 | b7+3  |\n";
    check(
      "jump",
      `
      section A
      chords | 1     | 7     |
      right  | 3+5   | b3+b5 |
                       ^^^^^ The top of the right hand leaps from G3 to F4, and F3 lies nearer. Put < before it if you mean that one.
      `,
    );
    check("jump", before);
    fix("jump", "chords | 1 | 7 |\nright | 3+5 | b3+b5 |\n", "chords | 1 | 7 |\nright | 3+5 | <b3+b5 |\n");
  });

  test("lets a leap stand that is written with a sign, an exact pitch, a group or a rest before it", () => {
    check("jump", "section A\nlead | 1 <7 | C4 B4 | r - 1 - |\n");
    check("jump", "section A\nlead | 1 >1 | C4 B4 | r 1 r 7 | >( 1 = ) r |\n");
  });

  test("is silent where a later stack holds on to the tone", () => {
    check("jump", "section A\nlead | 1 7 _7+2 r |\n");
    check("jump", "section A\nlead | 1 7 = (_7+2 r) |\n");
  });

  test("puts the sign where it belongs", () => {
    fix("jump", "lead | 1 7 |\n", "lead | 1 <7 |\n");
    fix("jump", "lead | 7 1 |\n", "lead | 7 >1 |\n");
    fix("jump", "lead | 1 b7~7 |\n", "lead | 1 b7~<7 |\n");
  });

  test("goes on into a second ending from where the first began", () => {
    check(
      "jump",
      `
      section A
      chords |: 1       | 1. 1       :| 2. 1       ||
      lead   |: 1 2 3 4 | 1. 5 6 7 >1 :| 2. 3 - - - ||
      `,
    );
    check(
      "jump",
      `
      section A
      chords |: 1       | 1. 1         :| 2. 1       ||
      lead   |: 3 4 5 7 | 1. 5 3 2 <7  :| 2. 1 - - - ||
                                             ^ The melody leaps from B4 to C4, and C5 lies nearer. …
      `,
    );
  });

  describe("down to where the left hand plays", () => {
    const jumps = (chart: string): number =>
      openDocument("chart.plagal", `key C\n${chart}`).problems.filter(({ code }) => code === "jump").length;

    test.each([
      ["is silent where it would still be held when that key comes", "-", 0],
      ["speaks where it would be over by then", "r", 1],
    ])("%s", (_, after, count) => {
      expect(jumps(`chords | 1 | 7 | 1 |\nright | 3+5 | b3+b5 | ${after} |\nleft | 1 | 1 | >4 |\n`)).toBe(
        count,
      );
      expect(
        jumps(`chords |: 1 | 7 | 1 :|\nright |: 3+5 | b3+b5 | ${after} :|\nleft |: 1 | 1 | >4 :|\n`),
      ).toBe(count);
    });

    test("is silent where it would lie below the left hand in its bar", () => {
      expect(jumps("chords | 1 | 7 |\nright | 3+5 | b3+b5 |\nleft | >1 | >1 |\n")).toBe(0);
    });
  });

  describe("in a hand that rocks between a single tone and a stack", () => {
    test("says nothing of what lies near the last single tone, or the last stack", () => {
      check("jump", "chords | 1 | 4 |\nright from C4 | (1 3+5) = = = | (3 5+1) = (1 3+5) = |\n");
      check("jump", "key B major\nchords | 1 | 1/3 |\nright from F#3 | (1 3+5) = = = | (5 1+3) = = = |\n");
      // The 3 lies a sixth below the stack, and where it lay before.
      check("jump", "chords | 1 |\nright | 4 1+3 3 1+3 |\n");
      check(
        "jump",
        `
        chords | 1m               |
        right  | 2 1+b3 b3 1+b3   |
                        ^^ The right hand leaps from C4 to E♭3, and E♭4 lies nearer. Put > before it if you mean that one.
        `,
      );
    });

    test("compares the tones that lie nearest", () => {
      check("jump", "chords | 1 |\nright | 5 1+3 3+5+1 3 |\n");
      check(
        "jump",
        `
        chords | 1         |
        right  | r 3 2+6 r |
                     ^^^ The right hand leaps from E3 to D4, and D3 lies nearer. …
        `,
      );
      check(
        "jump",
        `
        chords | 1         |
        right  | r 2+6 3 r |
                       ^ The right hand leaps from D4 to E3, and E4 lies nearer. …
        `,
      );
      check("jump", "chords | 1 |\nright | r 2+6 5 3 |\n");
    });
  });

  describe("up a sixth from an upbeat into a bar", () => {
    test("says nothing where the upbeat has a sign or its octave", () => {
      check("jump", "lead <5 | 3 - 1 - |\n");
      check("jump", "lead | 2 - - r | r - - <5 | 3 - 1 - |\n");
      check("jump", "lead | r - - <(5 -) | 3 - 1 - |\nlead G3 | 3 - 1 - |\n");
      check("jump", "key C minor\nlead (r <5) | 3 - 1 - |\n");
    });

    test.each([
      ["has no sign", "lead | 1 3 4 1 | 6 - - - |"],
      ["comes within a line", "lead | 2 1 <7 <5 | 3 - - - |"],
      ["doesn't lead into the bar's first beat", "lead | r - <5 3 |"],
      ["leaps further", "lead <5 | 4 - - - |"],
      ["falls", "lead >3 | 5 - - - |"],
    ])("speaks where it %s", (_, chart) => {
      expect(openDocument("chart.plagal", chart).problems.map(({ code }) => code)).toEqual(["jump"]);
    });
  });
});
