import { describe, test } from "vitest";
import { check, fix } from "../support/check-chart.js";

describe("unknown-word", () => {
  test("tells of a line that starts with no word of the language", () => {
    check(
      "unknown-word",
      `
      tittle Evening
      ^^^^^^ “tittle” is not a word that starts a line. Did you mean “title”?
      section A
      Chords | 1 |
      ^^^^^^ “Chords” is not a word that starts a line. Did you mean “chords”?
      hum    | 1 |
      ^^^ “hum” is not a word that starts a line. A line starts with a row …
      `,
    );
  });

  test("writes the nearest word", () => {
    fix("unknown-word", "section A\nchrods | 1 |\n", "section A\nchords | 1 |\n");
  });
});
