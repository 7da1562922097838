import { describe, expect, test } from "vitest";
import { openDocument } from "../../server/src/document/document.js";
import { check, fix, fixTitles } from "../support/check-chart.js";

const severities = (chart: string): readonly string[] =>
  openDocument("chart.plagal", chart).problems.flatMap(({ code, severity }) =>
    code === "hands-cross" ? [severity] : [],
  );

describe("hands-cross", () => {
  test("tells of a left hand above the right hand's lowest key, and where each is", () => {
    check(
      "hands-cross",
      `
      chords | 1      | 1      |
      right  | 5+1+3  | 5+1+3  |
               ^^^^^ The hands cross: the left hand reaches up to A3, and the right hand starts at G3. Play G3 with the left hand and A3, C4 and E4 with the right, …
                        ~~~~~ Here again.
      left   | >6     | >6     |
               ~~ The left hand is here.
      `,
    );
  });

  test("is an error where each hand has keys on both sides of a key of the other", () => {
    expect(severities("chords | 1 |\nright | 5+1+3 |\nleft | >6 |\n")).toEqual(["warning"]);
    expect(severities("chords | 1 |\nright | 5 |\nleft | >3+6 |\n")).toEqual(["warning"]);
    expect(severities("chords | 1 |\nright | 5+1+3 |\nleft | >3+6 |\n")).toEqual(["error"]);
  });

  test("a roll passes by, and is no error", () => {
    expect(severities("chords | 1 |\nright | 5+1+3 |\nleft | ~>3+6 |\n")).toEqual(["warning"]);
    expect(severities("chords | 1 |\nright | 1+3 5+1+3 |\nleft | ~>3+6 - |\n")).toEqual([]);
  });

  test("says nothing of hands that share a key, which is another thing", () => {
    expect(severities("chords | 1 |\nright | 5+1+3 |\nleft | >3+5+1 |\n")).toEqual([]);
  });

  test("judges all that sounds together, also what one hand only holds", () => {
    check(
      "hands-cross",
      `
      chords | 1                |
      right  | 1+3  3  5+1 -    |
                    ^ The hands cross: the left hand reaches up to G3, and the right hand starts at E3. …
      left   | >1+5 -  >1  -    |
                    ~ The left hand is here.
      `,
    );
    check("hands-cross", "chords | 1 |\nright | 1+3 3 5+1 - |\nleft | >1+5 r >1 - |\n");
  });

  test("marks the slot that crosses, and not the one that is repeated there", () => {
    check(
      "hands-cross",
      `
      chords | 1                |
      right  | 5+1+3  = r     - |
                      ~ The right hand is here.
      left   | 1     >6 -     - |
                     ^^ The hands cross: the left hand reaches up to A3, and the right hand starts at G3. …
      `,
    );
    check(
      "hands-cross",
      `
      chords | 1                |
      right  | 1+3  r    5+1  - |
                         ^^^ The hands cross: the left hand reaches up to A3, and the right hand starts at G3. …
      left   | >6   =    =    - |
                         ~ The left hand is here.
      `,
    );
    // The tones of the = are those of its own chord.
    check(
      "hands-cross",
      `
      chords | 1     6m   |
      right  | 5+1+3 -    |
                     ~ The right hand is here.
      left   | >1    =    |
                     ^ The hands cross: the left hand reaches up to A3, and the right hand starts at G3. …
      `,
    );
  });

  test("marks the hand that is written where the other one repeats a bar", () => {
    check(
      "hands-cross",
      `
      chords | 1             | 1            |
      right  | 5+1+3   - - - | %            |
               ~~~~~ The right hand is here.
      left   | 1       - - - | >6     - - - |
                               ^^ The hands cross: the left hand reaches up to A3, and the right hand starts at G3. …
      `,
    );
    check(
      "hands-cross",
      `
      chords | 1             | 1            | 1           |
      right  | (r 5+1+3) r r r | % | r |
                  ^^^^^ The hands cross: the left hand reaches up to A3, and the right hand starts at G3. …
                                 ~ Here it is repeated, and there they meet.
      left   | 1       - - - | >6     - - - | r           |
                               ~~ The left hand is here.
      `,
    );
  });

  test("tells of two grips that cross once, whichever hand strikes anew", () => {
    check(
      "hands-cross",
      `
      chords | 1                            |
      right  | 1+3    =     (5+1+3 -) -     |
                             ^^^^^ The hands cross: the left hand reaches up to A3, and the right hand starts at G3. …
      left   | >6     -     -       >6      |
                            ~ The left hand is here.
                                    ~~ Here again.
      `,
    );
    fix(
      "hands-cross",
      "chords | 1 |\nright | 1+3 = 5+1+3 - |\nleft | >6 = = = |\n",
      "chords | 1 |\nright | 1+3 = 1+3+5 - |\nleft | >6 = = = |\n",
    );
  });

  test("a lead that somebody else sings crosses nobody", () => {
    check("hands-cross", "chords | 1 |\nlead | <3 |\nright | 1+3 |\nleft | >1+5 |\n");
  });

  test("judges each bar of endings by what is played there", () => {
    check(
      "hands-cross",
      `
      chords |: 1         | 1. 4   :| 2. 1      |
      right  |  1+3       |    5+3  |    3+1    |
      left   |  1+5       |    >1   |    -      |
      `,
    );
  });
});

describe("the fixes of hands-cross", () => {
  test("share the same keys anew, the lower ones for the left", () => {
    fix(
      "hands-cross",
      "chords | 1 | 4 |\nright | 5+1+3 | 5+1 |\nleft | >3+6 | 1 |\n",
      "chords | 1 | 4 |\nright | 6+1+3 | 5+1 |\nleft | >3+5 | 1 |\n",
    );
    fix(
      "hands-cross",
      "chords | C |\nright | G+C+E |\nleft | A3 |\n",
      "chords | C |\nright | A3+C+E |\nleft | >G |\n",
    );
  });

  test("move the tones that cross, or the whole hand, an octave away", () => {
    const before = "chords | 1 |\nright | 5+1+3 |\nleft | >6 |\n";
    expect(fixTitles("hands-cross", before)).toEqual([
      "Play G3 with the left hand and A3, C4 and E4 with the right",
      "Move G3 up an octave",
      "Move the right hand up an octave",
    ]);
    fix("hands-cross", before, before.replace("5+1+3", "1+3+5"), 1);
    fix("hands-cross", before, before.replace("5+1+3", ">5+1+3"), 2);
  });

  test("leave alone what the other hand only holds", () => {
    expect(fixTitles("hands-cross", "chords | 1 |\nright | 1+3 3 |\nleft | >1+5 - |\n")).toEqual([
      "Move E3 up an octave",
    ]);
  });
});
