import { describe, test } from "vitest";
import { check } from "../support/check-chart.js";

describe("open-sus", () => {
  test("tells of a suspension that moves on without its third, once for its whole length", () => {
    check(
      "open-sus",
      `
      section A
      chords | 5:7sus 5:9sus | 1 |
               ^^^^^^ G7sus moves on to C before its suspension comes down to B. If it should, write the chord without sus before it moves.
      `,
    );
  });

  test("is content where the third comes in a chord, in a hand, or may come after the section", () => {
    check("open-sus", "section A\nchords | 5:7sus 5:7 | 1 |\n");
    check("open-sus", "section A\nchords | 5:7sus | 1 |\nlead | 1 <7 | 1 |\n");
    check("open-sus", "section A\nchords | 1 | 5:7sus |\n");
  });

  test("asks for the key's third where the chord has no seventh", () => {
    check(
      "open-sus",
      "section A\nchords | 2sus | 5 |\n         ^^^^ Dsus moves on to G before its suspension comes down to F. …\n",
    );
  });
});
