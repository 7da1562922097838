import { describe, test } from "vitest";
import { check, fix } from "../support/check-chart.js";

describe("spelling", () => {
  test("tells of a tone whose chord has it under another name", () => {
    check(
      "spelling",
      `
      key Ab major
      section A
      chords | Ab/D#  |
                  ^^ D♯: A♭ has this tone under the name E♭. Write E♭.
      lead   | C D#   |
                 ^^ D♯: A♭ has this tone under the name E♭. Write E♭.
      left   | Ab+D#3 |
                  ^^^ D♯: A♭ has this tone under the name E♭. Write E♭.
      `,
    );
  });

  test("tells of a root and a tone that the key has under another name", () => {
    check(
      "spelling",
      `
      key F major
      section A
      chords | A#   | F   |
               ^^ A♯: F major has this tone under the name B♭. Write B♭.
      bass   | A#   | E#  |
                      ^^ E♯: F has this tone under the name F. Write F.
      `,
    );
  });

  test("tells of a letter that is slipped from", () => {
    check(
      "spelling",
      `
      key Ab major
      section A
      chords | Ab      | Ab      |
      lead   | D#~F C  | F D#5~C |
               ^^ D♯: A♭ has this tone under the name E♭. Write E♭.
                           ^^^ D♯: A♭ has this tone under the name E♭. Write E♭.
      right  | G#~C+Eb | !D#~E   |
               ^^ G♯: A♭ has this tone under the name A♭. Write A♭.
                          ^^ …
      `,
    );
    const chart = "key Ab\nsection A\nchords | Ab |\n";
    fix("spelling", `${chart}lead | D#~F |\n`, `${chart}lead | Eb~F |\n`);
    fix("spelling", `${chart}lead | B#3~Eb |\n`, `${chart}lead | C4~Eb |\n`);
    fix("spelling", `${chart}right | C4+D#~F |\n`, `${chart}right | C4+Eb~F |\n`);
    fix("spelling", `${chart}right | C4 _D#4~F |\n`, `${chart}right | C4 _Eb4~F |\n`);
    fix("spelling", `${chart}right | ~D♯~<C+Ab |\n`, `${chart}right | ~E♭~<C+Ab |\n`);
  });

  test("lets a slip by a half step lead into its tone from letter to letter", () => {
    check(
      "spelling",
      `
      key Ab major
      section A
      chords | Db7 |
      lead   | B~C B |
                   ^ B: D♭7 has this tone under the name C♭. Write C♭.
      `,
    );
  });

  test("tells of a letter that is held, under the chord that it is held into", () => {
    check(
      "spelling",
      `
      key Ab major
      section A
      chords | B7         Ab           |
      lead   | F#+D#      F+_D#        |
                             ^^ D♯: A♭ has this tone under the name E♭. Write E♭.
      left   | D#3+B      _D#3+C       |
                           ^^^ D♯: A♭ has this tone under the name E♭. Write E♭.
      `,
    );
    const chart = "key Ab\nsection A\nchords | Ab |\n";
    fix("spelling", `${chart}right | Eb+Ab _D#+C |\n`, `${chart}right | Eb+Ab _Eb+C |\n`);
    fix("spelling", `${chart}right | C4+Ab _B#3+Eb |\n`, `${chart}right | C4+Ab _C4+Eb |\n`);
    fix("spelling", `${chart}right | >Eb+Ab _>D♯+C |\n`, `${chart}right | >Eb+Ab _>E♭+C |\n`);
  });

  test("tells once of what = and % repeat", () => {
    check(
      "spelling",
      `
      key Ab major
      section A
      chords | Ab              | Ab |
      right  | Eb+C _D#+Ab = D#~F | % |
                     ^^ …
                             ^^ …
      `,
    );
  });

  test("lets colour tones, borrowed chords and the key's own names stand", () => {
    check(
      "spelling",
      `
      key Bb major
      section A
      chords | F7#9 | Bb | Ebm | Gb7 | C7b9 |
      lead   | A+G# | D+F | Gb+Bb | Gb+Fb | E+Db |
      `,
    );
  });

  test("tells of two kinds of name in one chord", () => {
    check(
      "spelling",
      `
      section A
      chords | 1/B |
               ^^^ 1/B: … Write …
      `,
    );
  });

  test("respells with the chart's own signs, and keeps an exact pitch on its key", () => {
    fix("spelling", "key Db\nright | G♯ |\n", "key Db\nright | A♭ |\n");
    fix("spelling", "key C\nchords | C |\nright | B#3+E |\n", "key C\nchords | C |\nright | C4+E |\n");
    fix("spelling", "key Db\nchords | C#7 |\nright | F+Cb |\n", "key Db\nchords | Db7 |\nright | F+Cb |\n");
  });

  test("writes a colon where an accidental of the quality would become the root's", () => {
    fix(
      "spelling",
      `
      key Ab
      section A
      chords | C#b9 |
      `,
      `
      key Ab
      section A
      chords | Db:b9 |
      `,
    );
    fix(
      "spelling",
      `
      key Ab
      section A
      chords | B#b5/C |
      `,
      `
      key Ab
      section A
      chords | C:b5/C |
      `,
    );
  });

  test("leaves a leading-tone chord the name that its target asks for", () => {
    check(
      "spelling",
      `
      key Ab
      section A
      chords | C#dim7 | Dm7b5 |
      `,
    );
  });

  test("says nothing of letters under a chord that can't be read, nor in a key that should have another name", () => {
    check(
      "spelling",
      `
      key Eb
      section A
      chords | B7x | 1 |
               ^^^ unknown-chord: …
      left   | D#  | Eb |
      `,
    );
    check(
      "spelling",
      `
      key G# major
          ^^ key-name: …
      section A
      chords | G# | C# |
      left   | G  | G# |
      `,
    );
  });
});
