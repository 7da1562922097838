import { describe, test } from "vitest";
import { check } from "../support/check-chart.js";

describe("unused-section", () => {
  test("tells of a section that the form doesn't play and nobody else does", () => {
    check(
      "unused-section",
      `
      form Verse
      section Verse
      chords | 1 |
      play Tag
      section Tag
      chords | 5 |
      section Spare
              ^^^^^ The form doesn't play “Spare”. Name it in the form line, or keep it for another day.
      chords | 5 |
      `,
    );
  });

  test("tells of bars that stand in no section", () => {
    check(
      "unused-section",
      `
      chords | 1 |
      ^^^^^^ The form doesn't play these bars: they belong to no section. Put “section NAME” above them …
      section Verse
      chords | 1 |
      form Verse
      `,
    );
  });

  test("says nothing where no form is written", () => {
    check("unused-section", "section A\nchords | 1 |\nsection B\nchords | 1 |\n");
  });

  test("says nothing of a section whose name the form has with a slip in it", () => {
    check(
      "unused-section",
      `
      form Verse Vers
                 ^^^^ unknown-section: …
      section Verse
      chords | 1 |
      `,
    );
    check(
      "unused-section",
      `
      form Verse Tga
                 ^^^ unknown-section: …
      section Verse
      chords | 1 |
      section Tag
      chords | 1 |
      `,
    );
  });
});
