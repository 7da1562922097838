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
      left   | Ab+D#4 |
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
