import { describe, test } from "vitest";
import { check } from "../support/check-chart.js";

describe("too-many-words", () => {
  test("tells of the syllables that have no note", () => {
    check(
      "too-many-words",
      `
      section A
      lead  | 1 2 3 2              | 1 - - 2 |
      words | out on the har-bour  | low and slow |
                             ^^^^ 5 syllables stand under 4 notes of the lead, so these have none. Write more notes, or join syllables.
                                             ^^^^ 3 syllables stand under 2 notes of the lead, …
      `,
    );
  });

  test("tells of words where the lead rests", () => {
    check(
      "too-many-words",
      `
      section A
      lead  | 1   | -    | r   |
      words | low | and  | now |
                    ^^^ The lead has no note here to sing this on. Write one, or move the words to where they are sung.
                           ^^^ The lead has no note here …
      `,
    );
  });

  test("tells of each verse and of the pickup by itself", () => {
    check(
      "too-many-words",
      `
      section A
      lead   5    | 1 2     |
      words  The  | riv-er  |
      words  O my | riv-er  |
               ^^ 2 syllables stand under 1 note of the lead, …
      words  O    | a low riv-er |
                          ^^^^^^ 4 syllables stand under 2 notes of the lead, …
      `,
    );
  });

  test("counts a _ as a note, and a parting - not at all", () => {
    check(
      "too-many-words",
      `
      section A
      lead  | 1 2 3 -   | 1 - - 2   |
      words | slow _ _  | har- -bour |
      `,
    );
  });

  test("says nothing without a lead, nor where a tone of it can't be read", () => {
    check(
      "too-many-words",
      `
      section A
      chords | 1                |
      words  | out on the water |

      lead   | 12               |
               ^^ unknown-tone: “12” is not a tone. …
      words  | out on the water |
      `,
    );
  });
});
