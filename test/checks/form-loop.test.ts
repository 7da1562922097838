import { describe, test } from "vitest";
import { check } from "../support/check-chart.js";

describe("form-loop", () => {
  test("tells of a section that plays itself", () => {
    check(
      "form-loop",
      `
      section Verse
      chords | 1 |
      play Verse
           ^^^^^ This would never end: “Verse” plays “Verse”. Take one of these play lines away.
      `,
    );
  });

  test("tells once of sections that play each other in a circle, where the circle closes", () => {
    check(
      "form-loop",
      `
      form A
      section A
      chords | 1 |
      play B
      section B
      chords | 1 |
      play C
      section C
      chords | 1 |
      play A
           ^ This would never end: “A” plays “B” plays “C” plays “A”. …
      `,
    );
  });

  test("tells of a circle that runs through another chart, at this chart's own play line", () => {
    check(
      "form-loop",
      `
      use "other.plagal"
      section A
      chords | 1 |
      play B
           ^ This would never end: “A” plays “B” plays “A”. …
      `,
      { "other.plagal": 'use "chart.plagal"\nsection B\nchords | 1 |\nplay A\n', "chart.plagal": "" },
    );
  });

  test("lets charts use each other, and a section be played as often as the form likes", () => {
    check(
      "form-loop",
      `
      use "other.plagal"
      form A B A A x2
      section A
      chords | 1 |
      `,
      { "other.plagal": 'use "chart.plagal"\nsection B\nchords | 1 |\n', "chart.plagal": "" },
    );
    check(
      "form-loop",
      `
      section A
      chords | 1 |
      section B
      play A
      play A in D
      `,
    );
  });
});
