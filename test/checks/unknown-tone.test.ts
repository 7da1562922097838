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
                      ^ “x” is not a tone. Did you mean r or -?
      `,
    );
  });

  test("writes the nearest tone", () => {
    fix("unknown-tone", "section A\nlead | e4 |\n", "section A\nlead | E4 |\n");
  });

  test("offers numbers that ran together apart, as slots or as a stack, and no poor guess", () => {
    check(
      "unknown-tone",
      `
      section A
      chords | 1 |
      right  | 44 135 b33 3b7 b9#11 1+44 3/5 20 |
               ^^ “44” is not a tone. Did you mean 4 4 or 4+4?
                  ^^^ “135” is not a tone. Did you mean 1 3 5 or 1+3+5?
                      ^^^ “b33” is not a tone. Did you mean b3 3 or b3+3 or b13?
                          ^^^ “3b7” is not a tone. Did you mean 3 b7 or 3+b7?
                              ^^^^^ “b9#11” is not a tone. Did you mean b9 #11 or b9+#11?
                                      ^^ “44” is not a tone. Did you mean 4+4?
                                         ^^^ “3/5” is not a tone. Did you mean 3+5?
                                             ^^ “20” is not a tone. A tone is a number …
      `,
    );
    fix("unknown-tone", "section A\nlead | 44 |\n", "section A\nlead | 4 4 |\n");
    fix("unknown-tone", "section A\nlead | 44 |\n", "section A\nlead | 4+4 |\n", 1);
  });

  test("offers a rest where no chord is said", () => {
    fix("unknown-tone", "section A\nlead | N.C. |\n", "section A\nlead | r |\n");
  });
});
