import { describe, test } from "vitest";
import { check, fix } from "../support/check-chart.js";

describe("unknown-chord", () => {
  test("tells of a text that is no chord, and of nothing that depends on it", () => {
    check(
      "unknown-chord",
      `
      section A
      chords | 1:mja7 H  /7    |
               ^^^^^^ “1:mja7” is not a chord. Did you mean 1maj7 or …
                      ^ “H” is not a chord. A chord is a number (1 to 7) or a letter (C, B♭), then its quality, …
      right  | 3+5    b9 0   - |
      `,
    );
  });

  test("writes the nearest chord", () => {
    fix("unknown-chord", "section A\nchords | 1:mja7 |\n", "section A\nchords | 1maj7 |\n");
  });
});
