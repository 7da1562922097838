import { describe, test } from "vitest";
import { check, fix } from "../support/check-chart.js";

describe("minor-degree", () => {
  test("tells of a flat that the minor scale has already, in chords, basses and tones that count from the key", () => {
    check(
      "minor-degree",
      `
      key C minor
      section A
      chords | 1m/b3 b7 |
                  ^^ In C minor the 3 is E♭ already, so “b3” says it twice. Write 3.
                     ^^ In C minor the 7 is B♭ already, so “b7” says it twice. Write 7.
      lead   | 1 b3     |
                 ^^ In C minor the 3 is E♭ already, …
      bass   | 1 b6     |
                 ^^ In C minor the 6 is A♭ already, …
      `,
    );
  });

  test("tells of a sign that a church mode has already", () => {
    check(
      "minor-degree",
      `
      key F lydian
      section A
      lead | 1 ♯4 |
               ^^ In F lydian the 4 is B already, so “♯4” says it twice. Write 4.
      `,
    );
  });

  test("names a tone in the section's own key", () => {
    check(
      "minor-degree",
      `
      key C major
      section A
      lead | b3 |
      key C# minor
      lead | b7 |
             ^^ In C♯ minor the 7 is B already, …
      `,
    );
  });

  test("lets other signs be, and numbers that count from a chord", () => {
    check(
      "minor-degree",
      `
      key C minor
      section A
      chords | 1m      #7dim7 | 5:7b9    b2      |
      right  | b3+5+1  b3+bb7 | 3+b7+b9  3+5+1   |
      lead   | 1 bb3          | #7 2             |
      `,
    );
  });

  test("tells once of a slot that = and % repeat", () => {
    check(
      "minor-degree",
      `
      key C minor
      section A
      lead | b3 = | % |
             ^^ In C minor …
      `,
    );
  });

  test("leaves text alone that % repeats in another key, where its sign says something else", () => {
    check(
      "minor-degree",
      `
      key F lydian
      section A
      lead | 1 | #4 |
      key C major
      lead | % | #4 |
      `,
    );
    check(
      "minor-degree",
      `
      section A
      lead | 1 | #4 |
      key F lydian
      lead | % | 1 |
      `,
    );
    check(
      "minor-degree",
      `
      key F lydian
      section A
      lead | 1 | #4 |
                 ^^ In F lydian …
      key C major
      lead | 1 | %  |
      `,
    );
  });

  test("drops the sign", () => {
    fix("minor-degree", "key C minor\nsection A\nlead | b3~4 |\n", "key C minor\nsection A\nlead | 3~4 |\n");
    fix(
      "minor-degree",
      "key C minor\nsection A\nchords | b7:7/3 |\n",
      "key C minor\nsection A\nchords | 7:7/3 |\n",
    );
  });
});
