import { describe, test } from "vitest";
import { check } from "../support/check-chart.js";

describe("missing-guide-tone", () => {
  test("tells of the third and the seventh that nobody plays", () => {
    check(
      "missing-guide-tone",
      `
      section A
      chords | 2m7   | 5:7   | 1 |
                       ^^^ Nobody plays the 3 (B) and the ♭7 (F) of G7, which makes it that chord. Add them, or write the chord without them.
                               ^ Nobody plays the 3 (E) of C, which makes it that chord. Add it, or write the chord without it.
      right  | b3+5+b7 | 5+1 | >5 |
      left   | 1     | 1     | 1 |
      `,
    );
  });

  test("hears hands and bass over the chord's whole length, held and pushed tones too", () => {
    check(
      "missing-guide-tone",
      `
      section A
      chords | 1     | 4maj7      | 5:7  | 1   |
      right  | 5+1   | 1+5 3      | <5+1  | 3+5+1 |
      left   | 1 3   | 1 7        | 1 b7 | 1   |
      bass   | 1     | 4          | 7    | 1   |
      `,
    );
    check("missing-guide-tone", "section A\nchords | 1 | 5:7 |\nright | 3+5 !3+b7 | - |\nleft | 1 | 1 |\n");
    check("missing-guide-tone", "section A\nchords | 1 |\n\nchords | / |\nright | 3+5 |\n");
  });

  test("asks nothing of chords that promise nothing, of silence, or where no right hand stands", () => {
    check("missing-guide-tone", "section A\nchords | 1:5 | 5:7sus | 4no3 |\nright | 5+1 | 4+b7 | 5+1 |\n");
    check("missing-guide-tone", "section A\nchords | 1 | 5:7 |\nright | 3+5 | r |\nleft | 1 | r |\n");
    check("missing-guide-tone", "section A\nchords | 1 |\nleft | 1+5 |\n");
  });

  test("asks nothing where the right hand rests, as where it has no row: a bass line voices no chord", () => {
    check(
      "missing-guide-tone",
      `
      section A
      chords | 1   | 4:7     | 1 |
      right  | r   |         | 3+5 |
      left   | 1+5 | 1 2 3 5 | 1 |
      `,
    );
    check(
      "missing-guide-tone",
      `
      section A
      chords | 1     | 4:7 |
               ^ Nobody plays the 3 (E) of C, …
      right  | 5+1 r | r   |
      left   | 1     | 1+5 |
      `,
    );
    // What it holds from before it plays.
    check(
      "missing-guide-tone",
      `
      section A
      chords | 1   | 4 |
                     ^ Nobody plays the 3 (A) of F, …
      right  | 3+5 | - |
      left   | 1   | 1 |
      `,
    );
  });

  test("gives a pushed stack to the chord that it is pushed to, and to no other", () => {
    check(
      "missing-guide-tone",
      `
      section A
      chords | 1               | 5:7   |
               ^ Nobody plays the 3 (E) of C, …
      right  | 5+1 5+1 !13+3 - | 1+5 - |
      left   | 1               | b7    |
      `,
    );
    check(
      "missing-guide-tone",
      `
      section A
      chords | 1            | 5:7 |
      right  | r r !3+b7 -  | r   |
      left   | 1            | 1   |
      `,
    );
    check("missing-guide-tone", "section A\nchords | 5:7 |\nright !3+b7 | 5+1 |\nleft | 1 |\n");
  });

  test("asks the right hand for a chord in a pickup where it has a pickup too", () => {
    check(
      "missing-guide-tone",
      `
      section A
      chords | 1   | 1   |
      right  | 3+5 | 3+5 |
      left   | 1   | 1   |

      chords 5:7 | 1   |
      right      | 3+5 |
      left   1   | 1   |
      `,
    );
    check(
      "missing-guide-tone",
      `
      section A
      chords | 1   | 1   |
      right  | 3+5 | 3+5 |
      left   | 1   | 1   |

      chords 5:7 | 1   |
             ^^^ Nobody plays the 3 (B) and the ♭7 (F) of G7, …
      right  5+1 | 3+5 |
      left   1   | 1   |
      `,
    );
    // A pickup of its own over the end of a bar leads to the next chord.
    check(
      "missing-guide-tone",
      `
      section A
      chords | 1 | 4   |
      right  | r | r   |
      left   | 1 | 1+5 |

      chords  | 1 |
      right 5 | 3 |
      left    | 1 |
      `,
    );
  });

  test("asks a diminished seventh for both, and is told once of a bar that is repeated", () => {
    check(
      "missing-guide-tone",
      `
      section A
      chords | #1dim7 | % |
               ^^^^^^ Nobody plays the ♭♭7 (B♭) of C♯dim7, which makes it that chord. …
      right  | b3+b5  | % |
      `,
    );
  });

  test("does not judge what can't be read", () => {
    check(
      "missing-guide-tone",
      `
      section A
      chords | 5:7 |
      right  | 5+x |
                 ^ unknown-tone: …
      `,
    );
  });

  test("hears a chord through, over a bass that moves under it", () => {
    check(
      "missing-guide-tone",
      `
      section A
      chords | 1   /7 6m    /5 |
      right  | 3+5 r  1+b3  r  |
      left   | 1   0  1     0  |
      `,
    );
    check(
      "missing-guide-tone",
      `
      section A
      chords | 1   /7 |
               ^ Nobody plays the 3 (E) of C, …
      right  | 5+1 r  |
      left   | 1   0  |
      `,
    );
  });

  test("leaves a wrong tone in its place to outside-chord", () => {
    check(
      "missing-guide-tone",
      `
      section A
      chords | 4:7   |
      right  | 3+7+9 |
                 ^ outside-chord: …
      `,
    );
  });

  test("asks nothing where rows don't match or one can't be read", () => {
    check(
      "missing-guide-tone",
      `
      section A
      chords | 1 | 5:7 |
      ~~~~~~ This row has 2.
      right  | 5+1 |
      ^^^^^ uneven-rows: …
      `,
    );
    check(
      "missing-guide-tone",
      `
      section A
      chord  | 1 | 5:7 |
      ^^^^^ unknown-word: …
      right  | 5+1 | 5+1 |
      left   | 1 | 1 |
      `,
    );
  });
});
