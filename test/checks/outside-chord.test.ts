import { describe, expect, test } from "vitest";
import { openDocument } from "../../server/src/document/document.js";
import { check, fix, fixTitles } from "../support/check-chart.js";

describe("outside-chord", () => {
  test("tells of a third under a suspension, with what to play", () => {
    check(
      "outside-chord",
      `
      section A
      chords | 5:7sus |
      right  | b7+3+5 |
                  ^ The 3 (B) in the right hand contradicts G7sus, which has the 4 (C) there. Play the 4, or write the chord without sus.
      left   | 1      |
      `,
    );
  });

  test("tells of the wrong fifth, seventh and ninth, whoever names them", () => {
    check(
      "outside-chord",
      `
      section A
      chords | 2m7b5   | 4maj7  | 5:7b9  |
      right  | b3+5+b7 | 3+b7+7 | 3+b7+A |
                  ^ The 5 (A) in the right hand contradicts Dm7♭5, which has the ♭5 (A♭) there. Play the ♭5, or write the chord as it sounds.
                           ^^ The ♭7 (E♭) in the right hand contradicts Fmaj7, which has the 7 (E) there. …
                                       ^ The 9 (A) in the right hand contradicts G7♭9, which has the ♭9 (A♭) there. …
      left   | b5      | 1      | 1      |
      `,
    );
  });

  test("lets colours, melody, bass, grace notes and what is held over stand", () => {
    check(
      "outside-chord",
      `
      section A
      lead   | 3 - | 3 3 |
      chords | 1   | 5:7sus /  |
      right  | 3+5+7 | _B3+C+F 3~4+b7 |
      left   | 1 9   | 1 - |
      bass   | 1     | 7 - |
      `,
    );
  });

  describe("a tone of the left hand that walks into the next chord", () => {
    test.each([
      ["by a half step", "chords | 5:7sus | 1 |\nleft | 1 5 4 3 | >1 - - - |\n"],
      ["by a whole step, from above", "chords | 1sus | 2m |\nleft | 1 5 1 3 | 1 - - - |\n"],
      ["in the last eighth", "chords | 5:7sus | 1 |\nleft | 1 - 5 (4 3) | >1 - - - |\n"],
      ["held through the last beat", "chords | 5:7sus | 1 |\nleft | (1 5) - - (3 -) | >1+5 - - - |\n"],
      ["into the bass after the slash", "chords | 5:7sus | 4/1 |\nleft | 1 5 4 3 | >0 - - - |\n"],
      ["in a pickup", "chords | 1 | 5:7 |\n\nchords | 5:7 | 1 |\nleft 7 | 1 - - - | 1 - - - |\n"],
      ["round a repeat", "chords |: 1 | 5:7sus :|\nleft |: >1 5 6 5 | 1 5 4 3 :|\n"],
      ["round a vamp", "section A\nvamp\nchords | 1 | 5:7sus |\nleft | >1 5 6 5 | 1 5 4 3 |\n"],
    ])("is free %s", (_, chart) => {
      check("outside-chord", chart);
    });

    test.each([
      ["stands before the last beat", "chords | 5:7sus | 1 |\nleft | 1 5 3 1 | >1 |\n"],
      ["is longer than a beat", "chords | 5:7sus | 1 |\nleft | 1 3 | >1 |\n"],
      ["ends before the bar line", "chords | 5:7sus | 1 |\nleft | 1 5 4 (3 r) | >1 |\n"],
      ["has another tone beside it", "chords | 5:7sus | 1 |\nleft | 1 5 4 3+5 | >1 |\n"],
      ["stands over one that is held", "chords | 5:7sus | 1 |\nleft | 1 - - _1+3 | >1 |\n"],
      ["is the right hand's", "chords | 5:7sus | 1 |\nright | 1 5 4 3 | 1 |\n"],
      ["moves by a third", "chords | 5:7sus | 2m |\nleft | 1 5 4 3 | >1 |\n"],
      ["stays", "chords | 5:7sus | 5/7 |\nleft | 1 5 4 3 | 0 |\n"],
      ["is an octave and a step away", "chords | 5:7sus | 1 |\nleft | 1 5 4 <3 | >1 |\n"],
      ["goes to another tone than the bass", "chords | 5:7sus | 4 |\nleft | 1 5 4 3 | >5 |\n"],
      ["goes to a bass with a tone under it", "chords | 5:7sus | 1 |\nleft | 1 5 4 3 | G2+C3 |\n"],
      ["comes into a bar whose chord begins later", "chords | 5:7sus | / 1 |\nleft | 1 5 4 3 | C3 |\n"],
      ["comes before a rest", "chords | 5:7sus | 1 |\nleft | 1 5 4 3 | r >1 |\n"],
      ["is the last of its section", "chords | 1 | 5:7sus |\nleft | >1 | 1 5 4 3 |\n"],
      ["walks in on one way only", "chords |: 1 | 5:7sus :| 2m |\nleft |: >1 | 1 5 4 3 :| 1 |\n"],
      [
        "comes before another section",
        "chords | 5:7sus |\nleft | 1 5 4 3 |\n\nplay B\nchords | 1 |\nleft | >1 |\n",
      ],
    ])("is told where it %s", (_, chart) => {
      const { problems } = openDocument("chart.plagal", chart);
      expect(problems.filter(({ code }) => code === "outside-chord")).toHaveLength(1);
    });

    test("stands in no guide tone's place", () => {
      check(
        "missing-guide-tone",
        `
        chords | 4:6             | 5m      |
                 ^^^ Nobody plays the 3 (A) of F6, …
        right  | 5+1+6   - - -   | 1+b3+5  |
        left   | 1 - - (5 b3)    | 1       |
        `,
      );
    });
  });

  test("tells once of a bar that is repeated", () => {
    check(
      "outside-chord",
      `
      section A
      chords | 1sus | % |
      right  | 3+5 = | % |
               ^ The 3 (E) …
      `,
    );
  });

  test("writes the chord's own tone in its place", () => {
    fix("outside-chord", "chords | 5:7sus |\nright | b7+3+5 |\n", "chords | 5:7sus |\nright | b7+4+5 |\n");
    fix("outside-chord", "chords | Am7b5 |\nright | C+E+G |\n", "chords | Am7b5 |\nright | C+Eb+G |\n");
    expect(fixTitles("outside-chord", "chords | 5:7sus |\nright | b7+3+4 |\n")).toEqual([]);
  });

  test("lets the bass after the slash be played against the chord above it", () => {
    check(
      "outside-chord",
      `
      section A
      chords | C7/B |
      right  | E+Bb |
      left   | B    |
      `,
    );
  });

  test("mends a repeated text where it contradicts, and leaves it where it fits", () => {
    const mends = (before: string, after: string): void => fix("outside-chord", before, after);
    mends("chords | 1 6m |\nright | 1+3 = |\n", "chords | 1 6m |\nright | 1+3 1+b3 |\n");
    mends("chords | 6m 1 |\nright | 1+3 = |\n", "chords | 6m 1 |\nright | 1+b3 1+3 |\n");
    mends("chords | 1 6m 1 4 |\nright | 1+3 = = = |\n", "chords | 1 6m 1 4 |\nright | 1+3 1+b3 1+3 = |\n");
    mends("chords | 1 | 6m |\nright | 1+3 5 | % |\n", "chords | 1 | 6m |\nright | 1+3 5 | 1+b3 5 |\n");
    mends(
      "chords | 6m | 2m | 1 |\nright | 1+3 ( 5 1 ) | % | % |\n",
      "chords | 6m | 2m | 1 |\nright | 1+b3 ( 5 1 ) | % | 1+3 ( 5 1 ) |\n",
    );
    mends("chords | 1sus | % |\nright | 1+3 = | % |\n", "chords | 1sus | % |\nright | 1+4 = | % |\n");
  });

  test("offers nothing where a later stack would lose what it holds", () => {
    expect(fixTitles("outside-chord", "chords | 6m / |\nright | 1+3 _3+5 |\n")).toEqual([]);
  });
});
