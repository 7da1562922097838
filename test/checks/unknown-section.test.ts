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

  /** A chart with this form, and the sections Verse and Lead-in. */
  const withForm = (form: string): string =>
    `form ${form}\nsection Verse\nchords | 1 |\nsection Lead-in\nchords | 5 |\n`;

  test("tells once of a name that lost its hyphen, its quotes or its capitals", () => {
    check(
      "unknown-section",
      `
      form Lead in Last Verse
           ^^^^^^^ No section is called “Lead in”. Did you mean “Lead-in”?
                   ^^^^^^^^^^ No section is called “Last Verse”. Did you mean “Last Verse”?
      section Lead-in
      chords | 5 |
      section Last Verse
      chords | 1 |
      `,
    );
    fix("unknown-section", withForm("Lead in Verse"), withForm("Lead-in Verse"));
    fix("unknown-section", withForm("Lead-in VERSE"), withForm("Lead-in Verse"));
    fix(
      "unknown-section",
      "form Last Verse\nsection Last Verse\nchords | 1 |\n",
      'form "Last Verse"\nsection Last Verse\nchords | 1 |\n',
    );
  });

  test("tells once of a misspelled word that says how a section is played", () => {
    check(
      "unknown-section",
      `
      form Verse upp half Verse in E flat minor Verse up half step
                 ^^^ No section is called “upp”. Did you mean “up half”?
                                     ^^^^ No section is called “flat”. Did you mean “in Eb minor”?
                                                              ^^^^ No section is called “step”. Did you mean “up half”?
      section Verse
      chords | 1 |
      `,
    );
    const mended = [
      ["Lead-in Verse upp half", "Lead-in Verse up half"],
      ["Verse dwon a whole step Lead-in", "Verse down whole Lead-in"],
      ["Verse up half step Lead-in", "Verse up half Lead-in"],
      ["Verse in F sharp Lead-in", "Verse in F# Lead-in"],
      ["Verse to Db Lead-in", "Verse in Db Lead-in"],
      ["Verse 2x Lead-in", "Verse x2 Lead-in"],
      ["Verse twice Lead-in", "Verse x2 Lead-in"],
    ] as const;
    for (const [before, after] of mended) fix("unknown-section", withForm(before), withForm(after));
  });

  test("says nothing of a section whose line is there without its word", () => {
    check(
      "unknown-section",
      `
      form Verse Chorus Lead in
      section Verse
      chords | 1 |
      Chorus:
      ^^^^^^^ unknown-word: “Chorus:” is not a word that starts a line. Did you mean “section Chorus”?
      chords | 4 |
      [Lead-in]
      ^^^^^^^^^ unknown-word: …
      chords | 5 |
      `,
    );
    check(
      "unknown-section",
      `
      form Chorus
      CHORUS
      ^^^^^^ unknown-word: …
      chords | 4 |
      `,
    );
  });
});
