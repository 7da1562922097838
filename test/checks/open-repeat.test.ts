import { describe, test } from "vitest";
import { check } from "../support/check-chart.js";

describe("open-repeat", () => {
  test("tells of a repeat that never goes back", () => {
    check(
      "open-repeat",
      `
      section A
      chords |: 1 | 4 | 5:7 |
             ^^ Nothing goes back to this “|:”, so no bar is repeated. Write :| where the repeat ends, or take the sign away.
      `,
    );
  });

  test("tells of a first ending that doesn't go back, once", () => {
    check(
      "open-repeat",
      `
      section A
      chords | 1 | 4 |1. 5:7 |2. 5:7 | 1 ||
                      ^^ This first ending doesn't go back: no “:|” stands before the second one, …
      `,
    );
    check(
      "open-repeat",
      `
      section A
      chords |: 1 | 4 |1. 5:7 |2. 5:7 | 1 ||
             ^^ Nothing goes back to this “|:”, …
      `,
    );
  });

  test("is content with repeats that close, over systems too, and with one that starts at the section's start", () => {
    check("open-repeat", "section A\nchords |: 1 | 4 |1. 5:7 :|2. 5:7 | 1 ||\n");
    check("open-repeat", "section A\nchords |: 1 | 4 |\n\nchords | 5:7 | 1 :|\n");
    check("open-repeat", "section A\nchords | 1 | 4 :|\n");
  });
});
