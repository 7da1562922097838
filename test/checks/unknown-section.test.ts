import { describe, test } from "vitest";
import { check, fix } from "../support/check-chart.js";

describe("unknown-section", () => {
  test("tells of a name in the form that no section has, with the nearest one", () => {
    check(
      "unknown-section",
      `
      form Verse Tga Outro
                 ^^^ No section is called “Tga”. Did you mean “Tag”?
      section Verse
      chords | 1 |
      play Tag
      section Tag
      chords | 1 |
      section Outro
      chords | 1 |
      play Chorus
           ^^^^^^ No section is called “Chorus”. Write its name as its section line has it, or add “section Chorus”.
      `,
    );
  });

  test("offers the nearest name, in quotes where it needs them", () => {
    fix(
      "unknown-section",
      `
      form "Last Verze"
      section Last Verse
      chords | 1 |
      `,
      `
      form "Last Verse"
      section Last Verse
      chords | 1 |
      `,
    );
    fix(
      "unknown-section",
      `
      form LastVerse
      section Last Verse
      chords | 1 |
      `,
      `
      form "Last Verse"
      section Last Verse
      chords | 1 |
      `,
    );
  });

  test("knows the sections that another chart brings in", () => {
    const others = { "leads.plagal": "section Walk\nchords | 5 |\n" };
    check(
      "unknown-section",
      `
      use "leads.plagal"
      form Walk Verse
      section Verse
      chords | 1 |
      `,
      others,
    );
    fix(
      "unknown-section",
      `
      use "leads.plagal"
      form Wolk Verse
      section Verse
      chords | 1 |
      `,
      `
      use "leads.plagal"
      form Walk Verse
      section Verse
      chords | 1 |
      `,
      0,
      others,
    );
  });

  test("takes names that every object has for what they are", () => {
    check(
      "unknown-section",
      `
      form __proto__ constructor
           ^^^^^^^^^ No section is called “__proto__”. …
                     ^^^^^^^^^^^ No section is called “constructor”. …
      section A
              ^ unused-section: …
      chords | 1 |
      `,
    );
  });

  test("offers in quotes what would be read as something else", () => {
    fix(
      "unknown-section",
      `
      form x1x
      section x11
      chords | 1 |
      `,
      `
      form "x11"
      section x11
      chords | 1 |
      `,
    );
  });

  test("says nothing while a chart that may bring the section can't be had, nor of quotes around nothing", () => {
    check(
      "unknown-section",
      `
      use "leads.plagal"
           ^^^^^^^^^^^^ missing-file: …
      form Walk Verse
      section Verse
      chords | 1 |
      `,
    );
    check(
      "unknown-section",
      `
      form Verse ""
                 ^^ syntax: …
      section Verse
      chords | 1 |
      `,
    );
  });
});
