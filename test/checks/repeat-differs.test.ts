import { describe, test } from "vitest";
import { check } from "../support/check-chart.js";

describe("repeat-differs", () => {
  test("tells of a chord that goes on into a repeat and is another when the repeat comes back", () => {
    check(
      "repeat-differs",
      `
      section A
      chords | 1 |: /  | 4 :|
                    ^ This “/” goes on with 1 the first time and 4 when the repeat comes back. Write it out here, or write endings (1. and 2.).
      lead   | 1 |  2  | 1  |
      `,
    );
  });

  test("tells of tones that are held into a repeat", () => {
    check(
      "repeat-differs",
      `
      key Eb major
      section A
      lead | 1 |: -  | 4 :|
                  ^ This “-” holds E♭4 the first time and A♭4 when the repeat comes back. Write it out here, or write endings (1. and 2.).
      bass | 1 |  _1 | 4  |
                  ^^ This “_” holds E♭2 the first time and A♭2 when the repeat comes back. …
      `,
    );
  });

  test("tells of a push at the end of a repeat", () => {
    check(
      "repeat-differs",
      `
      section A
      chords |: 1     | 4          :| 5     |
      right  |  3+5+1 | 3+5+1 !3+5+1 | 3+5+1 |
                              ^^^^^^ This “!” is pushed into 1 when the repeat goes back and 5 when it is over. Write endings (1. and 2.), or take the ! away.
      `,
    );
  });

  test("lets stand what is the same both times, or has its endings", () => {
    check(
      "repeat-differs",
      `
      section A
      chords | 1 |: /  | 1 :| 4 |
      lead   | 1 |  -  | 1  | 2 |

      section B
      chords |: 1     | 1. 4           :| 2. 4           | 5     |
      right  |  3+5+1 |    3+5+1 !3+5+1  |    3+5+1 !3+5+1 | 3+5+1 |

      section C
      chords | 1 |: 4  | 5 :|
      lead   | 1 |  2  | 3  |
      `,
    );
  });

  test("goes back to the section's start where a repeat after another one has no sign of its own", () => {
    check(
      "repeat-differs",
      `
      section A
      chords | 1 |: / | 1 :| 4 | 5 :|
      `,
    );
  });
});
