import { describe, expect, test } from "vitest";
import { check, fix, fixTitles } from "../support/check-chart.js";

describe("hands-collide", () => {
  test("tells of a key that both hands strike, once for a set of keys, and where the other hand is", () => {
    check(
      "hands-collide",
      `
      chords | 1      | 1      |
      right  | 5+1+3  | 5+1+3  |
               ^ Both hands need G3 at the same time. Leave G3 out in the right hand, move G3 up an octave, or move the right hand up an octave.
                        ~~~~~ Here again.
      left   | >1+5   | >1+5   |
                  ~ The left hand is here.
      `,
    );
  });

  test("tells of a key that one hand strikes while the other still holds it", () => {
    check(
      "hands-collide",
      `
      chords | 1              |
      right  | 1+3  5+1 - -   |
                    ^ The right hand strikes G3 while the left hand still holds it. …
      left   | >1+5 -   - -   |
                    ~ The left hand is here.
      `,
    );
    check(
      "hands-collide",
      `
      chords | 1               |
      right  | 5+3  -    -  -  |
                    ~ The right hand is here.
      left   | >1   >5   >1 -  |
                    ^^ The left hand strikes G3 while the right hand still holds it. …
      `,
    );
  });

  test("marks the slot that brings them together, and not the one that is repeated there", () => {
    check(
      "hands-collide",
      `
      chords | 1       4    |
      right  | 5+1+3   =    |
                       ~ The right hand is here.
      left   | 1       >>1  |
                       ^^^ Both hands need F4 at the same time. …
      `,
    );
  });

  test("a rest frees a key, and so does a roll that goes on", () => {
    check("hands-collide", "chords | 1 |\nright | 1+3 5+3 |\nleft | >1+5 r |\n");
    check("hands-collide", "chords | 1 |\nright | 1+3 5+3 |\nleft | ~>1+5 - |\n");
    check(
      "hands-collide",
      `
      chords | 1              |
      right  | 1+3    5+3     |
                      ^ The right hand strikes G3 while the left hand still holds it. …
      left   | ~>1+5  _>5     |
                      ~~~ The left hand is here.
      `,
    );
  });

  test("a lead that somebody else sings is in nobody's way, and one that the hand plays is", () => {
    check("hands-collide", "chords | 1 |\nlead | <5 |\nright | 1+3 |\nleft | >1+5 |\n");
    check(
      "hands-collide",
      `
      chords | 1     |
      lead   | <5    |
               ^^ Both hands need G3 at the same time. Leave G3 out in the left hand, or move the left hand down an octave.
      left   | >1+5  |
                  ~ The left hand is here.
      `,
    );
  });

  test("a pickup meets what the other hand still does in the bar before", () => {
    check(
      "hands-collide",
      `
      chords        | 1       |
      right         | 1+3     |
      left          | >1+5    |
                         ~ The left hand is here.

      chords        | 4       |
      right     9 3 | 5+1+3   |
                ^ The right hand strikes G3 while the left hand still holds it. …
      left          | 1+5     |
      `,
    );
    // Where it has a pickup too it has left that bar, and what it would have done at the bar's end is covered.
    check(
      "hands-collide",
      `
      chords   | 1          |
      right    | 1+3 - - 5  |
      left     | >1+5 - - - |

      chords   | 4          |
      right  3 | 5+1+3      |
      left   1 | 1+5        |
      `,
    );
  });
});

describe("the fixes of hands-collide", () => {
  test("leave the tone to one hand, so that nothing sounds different", () => {
    fix(
      "hands-collide",
      "chords | 1 | 4 |\nright | 5+1+3 | 3+5 |\nleft | >1+5 | 1 |\n",
      "chords | 1 | 4 |\nright | 1+3 | 3+5 |\nleft | >1+5 | 1 |\n",
    );
    fix(
      "hands-collide",
      "chords | 1 |\nright | 5 |\nleft | >1+3+5 |\n",
      "chords | 1 |\nright | 5 |\nleft | >1+3 |\n",
    );
  });

  test("leave it to the hand that has it for longer", () => {
    fix(
      "hands-collide",
      "chords | 1 |\nright | 5+1+3 1+3 |\nleft | >1+5 - |\n",
      "chords | 1 |\nright | 1+3 1+3 |\nleft | >1+5 - |\n",
    );
    fix(
      "hands-collide",
      "chords | 1 |\nright | 5+1+3 - |\nleft | >1+5 >1 |\n",
      "chords | 1 |\nright | 5+1+3 - |\nleft | >1 >1 |\n",
    );
  });

  test("move the tone, or the whole hand, an octave away", () => {
    const before = "chords | 1 |\nright | 5+1+3 |\nleft | >1+5 |\n";
    fix("hands-collide", before, before.replace("5+1+3", "1+3+5"), 1);
    fix("hands-collide", before, before.replace("5+1+3", ">5+1+3"), 2);
  });

  test("never take a hand's only tone, nor a melody's", () => {
    expect(fixTitles("hands-collide", "chords | 1 |\nright | 5 |\nleft | >5 |\n")).toEqual([
      "Move G3 up an octave",
      "Move the left hand down an octave",
    ]);
    expect(fixTitles("hands-collide", "chords | 1 |\nlead | <5 |\nleft | >5 |\n")).toEqual([
      "Move G3 down an octave",
    ]);
  });
});
