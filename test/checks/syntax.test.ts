import { describe, expect, test } from "vitest";
import { check, fix, fixTitles } from "../support/check-chart.js";

describe("syntax", () => {
  test("tells of = where nothing stands before it in its bar", () => {
    check(
      "syntax",
      `
      section A
      lead | 1 2 | = 3 | - = |
                   ^ “=” repeats the slot before it in its bar, and there is none. Write the tones.
                           ^ “=” repeats the slot before it in its bar, …
      `,
    );
  });

  test("makes no comment of what closes a group", () => {
    expect(fixTitles("syntax", "section A\nlead | 1 2; later\n")).toEqual(["Put a space before the comment"]);
    expect(fixTitles("syntax", "section A\nlead | (1 2;) 3 |\n")).toEqual([]);
  });

  test("tells of = after a rest", () => {
    check(
      "syntax",
      `
      section A
      lead | 1 r = = |
                 ^ “=” strikes tones again, and before it stands a rest. Write r, or the tones.
                   ^ “=” strikes tones again, …
      `,
    );
  });

  test("tells of = in a pickup and in a group", () => {
    check(
      "syntax",
      `
      section A
      lead = 5 | 3 (= 2) | (r =) 1 |
           ^ “=” repeats the slot before it in its bar, …
                              ^ “=” strikes tones again, …
      `,
    );
  });

  test("charges what % repeats to the bar that it repeats, once", () => {
    check(
      "syntax",
      `
      section A
      lead | = 1 | % | % |
             ^ “=” repeats …
      `,
    );
  });

  test("tells of % in the first bar of a row", () => {
    check(
      "syntax",
      `
      section A
      chords | % | 1 |
               ^ “%” repeats the bar before it, and this row has none in its section. Write the bar out.
      lead   | % | 1 |
               ^ “%” repeats the bar before it, …

      section B
      chords | 1 | % |
      lead   5 | % | 1 |
                 ^ “%” repeats the bar before it, …
      `,
    );
  });

  test("lets % and = stand where there is something to repeat", () => {
    check(
      "syntax",
      `
      section A
      chords | 1 4     | % |
      lead   | 1 - = = | % |
      `,
    );
  });

  test("tells of lines of the chart's head inside a section", () => {
    check(
      "syntax",
      `
      title A
      section A
      title B
      ^^^^^ “title” belongs before the first section. Move the line there, or put a ; before it to keep it as a remark.
      by    C
      ^^ “by” belongs before …
      chords | 1 |
        note softer
        ^^^^ “note” belongs before …
      chords | 4 |
      reach left 8
      ^^^^^ “reach” belongs before …
      use "tags.plagal"
      ^^^ “use” belongs before …
      `,
    );
  });

  test("leaves key, time, tempo and feel inside a section alone", () => {
    check(
      "syntax",
      `
      section A
      key   D major
      time  3/4
      tempo 60
      feel  swing
      lands 1
      vamp
      chords | 1 |
      `,
    );
  });

  test("says of a head line inside a section that can't be read only what the reader says", () => {
    check(
      "syntax",
      `
      section A
      chords | 1 |
      title
      ^^^^^ Write the words after it.
      reach twelve
            ^^^^^^ The reach is a white-key interval …
      `,
    );
  });

  test("tells of a form line between sections", () => {
    check(
      "syntax",
      `
      section A
      chords | 1 |
      form A B
      ^^^^ “form” stands before the first section or after the last one, …
      section B
      chords | 4 |
      `,
    );
  });

  test("tells of a form line inside the last section", () => {
    check(
      "syntax",
      `
      section A
      chords | 1 |
      form A
      ^^^^ “form” stands before …
      chords | 4 |
      form A
      `,
    );
  });

  test("lets form lines stand before the first section and after the last one", () => {
    check(
      "syntax",
      `
      form A
      form B
      section A
      chords | 1 |
      section B
      chords | 4 |

      form A
      form B ; and again
      `,
    );
  });

  test("writes r for = after a rest", () => {
    fix("syntax", "section A\nlead | 1 r = 2 |\n", "section A\nlead | 1 r r 2 |\n");
  });

  test("makes a stray line a remark", () => {
    fix(
      "syntax",
      `
      section A
      chords | 1 |
        note softer
      `,
      `
      section A
      chords | 1 |
        ; note softer
      `,
    );
  });

  test("moves all stray form lines before the first section, in their order", () => {
    fix(
      "syntax",
      `
      title A
      section A
      chords | 1 |
        form A ; once
      section B
      chords | 4 |
      form B
      section C
      chords | 5 |
      form C
      `,
      `
      title A
      form A ; once
      form B

      section A
      chords | 1 |

      section B
      chords | 4 |

      section C
      chords | 5 |
      form C
      `,
    );
  });

  test("keeps the line ends of a chart when it moves a line", () => {
    fix(
      "syntax",
      "section A\r\nchords | 1 |\r\nform A B\r\nsection B\r\nchords | 4 |\r\n",
      "form A B\r\n\r\nsection A\r\nchords | 1 |\r\n\r\nsection B\r\nchords | 4 |\r\n",
    );
  });

  test("tells once of a move that can't be read, at the wrong word", () => {
    check(
      "syntax",
      `
      form Verse up a half Verse in H x2 Verse in Q Verse up a third
                    ^ “up” is followed by half or whole. Write up half.
                                    ^ There is no H here: that tone is called B. Write B.
                                                  ^ “Q” is not a key. A key is a letter from A to G, …
                                                             ^ “up” is followed by half or whole. To move farther, …
      section Verse
      chords | 1 |
      `,
    );
    const inForm = (form: string): string => `form ${form}\nsection Verse\nchords | 1 |\n`;
    const mended = [
      ["Verse up a half", "Verse up half"],
      ["Verse up half-step x2", "Verse up half x2"],
      ["Verse down semitone Verse", "Verse down half Verse"],
      ["Verse up 1", "Verse up half"],
      ["Verse up wole", "Verse up whole"],
      ["Verse in H", "Verse in B"],
      ["Verse in ab Verse", "Verse in Ab Verse"],
      ["Verse in b minor", "Verse in B minor"],
      ["Verse up", "Verse up half"],
    ] as const;
    for (const [before, after] of mended) fix("syntax", inForm(before), inForm(after));
    expect(fixTitles("syntax", inForm("Verse up a step"))).toEqual(["Write up half", "Write up whole"]);
  });

  test("tells of a moving word between two sections, also while a used chart is missing", () => {
    check(
      "syntax",
      `
      form Verse in Tag Verse up Tag
                 ^^ “in” is followed by a key: in Db.
                              ^^ “up” is followed by half or whole.
      section Verse
      chords | 1 |
      section Tag
      chords | 1 |
      play Verse down
                 ^^^^ “down” is followed by half or whole.
      `,
    );
    check(
      "syntax",
      `
      use "leads.plagal"
           ^^^^^^^^^^^^ missing-file: …
      form Lead in Verse
                ^^ “in” is followed by a key: in Db.
      section Verse
      chords | 1 |
      `,
    );
  });

  test("offers the key that a key line means", () => {
    const meant = [
      ["H", "B"],
      ["ab", "Ab"],
      ["c minor", "C minor"],
      ["bb", "Bb"],
      ["E flat", "Eb"],
      ["f sharp minor", "F# minor"],
      ["E flat major", "Eb major"],
      ["Es", "Eb"],
      ["Fis moll", "F# minor"],
      ["eb major (original C)", "Eb major (original C)"],
    ] as const;
    const inKey = (key: string): string => `key ${key}\nsection A\nchords | 1 |\n`;
    for (const [before, after] of meant) fix("syntax", inKey(before), inKey(after));
    for (const key of ["3", "J", "cheerful"]) expect(fixTitles("syntax", inKey(key)), key).toEqual([]);
  });
});
