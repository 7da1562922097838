import { describe, test } from "vitest";
import { check, fix } from "../support/check-chart.js";

describe("unknown-tone", () => {
  test("tells of a text that is no tone", () => {
    check(
      "unknown-tone",
      `
      section A
      lead | 12 e4 3b x |
             ^^ “12” is not a tone. Did you mean 5 or 11 or 13?
                ^^ “e4” is not a tone. Did you mean E4?
                   ^^ “3b” is not a tone. Did you mean b3?
                      ^ “x” is not a tone. A tone is a number (1, b3, 9) or a letter (C, F♯4); …
      `,
    );
  });

  test("writes the nearest tone", () => {
    fix("unknown-tone", "section A\nlead | e4 |\n", "section A\nlead | E4 |\n");
  });
});
