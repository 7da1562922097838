import { describe, expect, test } from "vitest";
import { openDocument } from "../../server/src/document/document.js";
import { check, fix, fixTitles } from "../support/check-chart.js";

describe("hand-span", () => {
  test("tells of a tenth that a ninth's hand can't hold, once for a set of keys", () => {
    check(
      "hand-span",
      `
      chords | 1    | 1  1      |
      left   | 1+>3 | 1  1+>3   |
               ^^^^ The left hand would have to reach from C2 to E3: a tenth, 211.5 mm, and a reach of a ninth (taken where nobody says) holds 200.5. Roll it (~). If your own hand reaches a tenth, write “reach left 10” at the top.
                         ~~~~ Here again.
      `,
    );
  });

  test("measures key by key: a reach of a tenth holds the white tenths and not the widest", () => {
    check(
      "hand-span",
      `
      key Db major
      reach 10
      chords | 1    | 2:7  |
      left   | 1+>3 | 1+>3 |
               ^^^^ The left hand would have to reach from D♭2 to F3: a tenth, 225.6 mm, and the chart's reach of a tenth holds 224. Roll it (~).
                      ^^^^ other-keys: …
      `,
    );
  });

  test("tells which fingers stand too far apart inside a grip that is not too wide", () => {
    check(
      "hand-span",
      `
      reach 8
      chords | 1:7          |
      left   | >1+3+5+b7+1  |
               ^^^^^^^^^^^ Fingers 5 and 2 of the left hand would have to stand 132.6 mm apart, from C3 to B♭3: a minor seventh, and with the chart's reach of an octave they stand 130 apart at most. …
      right  | >3+b7        |
      `,
    );
    check(
      "hand-span",
      `
      chords | 1:7               |
      right  | 1+3+5+b7+1+9      |
               ^^^^^^^^^^^^ Six keys need two of them under the thumb, and C4 and E4 are no neighbours of one colour, so the thumb of the right hand can't hold both. …
      `,
    );
  });

  test("names the inner fingers where the next reach is wide enough and still doesn't hold it", () => {
    const words = (reach: string): string =>
      openDocument("chart.plagal", `${reach}left | G2+G3+B3 |\n`).problems.map(({ message }) => message)[0] ??
      "";
    expect(words("")).toBe(
      "The left hand would have to reach from G2 to B3: a tenth, 211.5 mm, and a reach of a ninth (taken where nobody says) holds 200.5. Roll it (~). A reach of a tenth would be wide enough, but from G2 to G3 its fingers 5 and 2 would have to stand 164.5 mm apart, and with a reach of a tenth they stand 153.5 apart at most. If your own hand reaches an eleventh, write “reach left 11” at the top.",
    );
    // Who has said a reach is told of that one.
    expect(words("reach 9\n")).not.toContain("fingers");
    expect(words("reach 10\n")).toContain(
      "Fingers 5 and 2 of the left hand would have to stand 164.5 mm apart, from G2 to G3",
    );
    expect(words("reach 11\n")).toBe("");
  });

  test("counts what a _ holds from before", () => {
    check(
      "hand-span",
      `
      chords | 1    1        |
      left   | 1+5  _1+>3    |
                    ^^^^^ The left hand would have to reach from C2 to E3: …
      `,
    );
  });

  test("lets a roll be as wide as it likes, but for what must stay down", () => {
    check("hand-span", "chords | 1 |\nleft | ~1+5+3 |\nright | 5+1 |\n");
    check(
      "hand-span",
      `
      chords | 1              | 1      |
      left   | ~1+>3  _1+5    | 1      |
               ^^^^^ The left hand would have to reach from C2 to E3: …
      `,
    );
    // The lower tone is let go before the upper one, which stays.
    check("hand-span", "chords | 1 |\nleft | ~1+>3 _>3 |\n");
  });

  test("judges every key in which the form plays it, and names those that fail", () => {
    check(
      "hand-span",
      `
      key C major
      reach left 10
      form A A in Db A in F
      section A
      chords | 1    |
      left   | 1+>3 |
               ^^^^ The left hand would have to reach from C2 to E3 when it is played in D♭ major: a tenth, 225.6 mm, and the chart's reach of a tenth holds 224. Roll it (~).
      `,
    );
  });

  test("says whose reach it is", () => {
    const at = (reach: number | undefined): string => {
      const { problems } = openDocument("chart.plagal", "left | C2+E3 |\n", undefined, {
        severities: {},
        reach: { left: reach, right: undefined },
      });
      return problems.map(({ message }) => message.replace(/^.*mm, and (.*?) holds.*$/, "$1")).join("\n");
    };
    expect(at(undefined)).toBe("a reach of a ninth (taken where nobody says)");
    expect(at(8)).toBe("the reach of an octave that you set");
  });

  test("judges a melody and a bass line where a hand plays them", () => {
    check(
      "hand-span",
      `
      lead | 1+>3 |
             ^^^^ The right hand would have to reach from C4 to E5: …
      `,
    );
    check("hand-span", "chords | 1 |\nlead | 1+>3 |\nright | 3+5 |\n");
  });

  test("tells of a text once that = and % repeat", () => {
    check(
      "hand-span",
      `
      chords | 1       | 4 | 5 |
      left   | 1+>3  = | % | % |
               ^^^^ The left hand would have to reach from C2 to E3: …
      `,
    );
  });
});

describe("the fixes of hand-span", () => {
  test("give the outer tone to the other hand, so that nothing sounds different", () => {
    fix(
      "hand-span",
      "chords | 1 | 4 |\nright | 5+1 | 5+1 |\nleft | 1+>3 | 1+5 |\n",
      "chords | 1 | 4 |\nright | 3+5+1 | 5+1 |\nleft | 1 | 1+5 |\n",
    );
  });

  test("give nothing to a hand that holds on, strikes for another length, or could not hold it", () => {
    const titles = (right: string): readonly string[] =>
      fixTitles("hand-span", `chords | 1 1 |\nright | ${right} |\nleft | r 1+>3 |\n`);
    expect(titles("5+1 5+1")).toEqual(["Give E3 to the right hand", "Roll it (~)"]);
    expect(titles("5+1 -")).toEqual(["Roll it (~)"]);
    expect(titles("5+1 (5+1 r)")).toEqual(["Roll it (~)"]);
    expect(titles("5+1 5+1+5")).toEqual(["Roll it (~)"]);
  });

  test("roll it, behind a push", () => {
    fix("hand-span", "chords | 1 |\nleft | 1+>3 |\n", "chords | 1 |\nleft | ~1+>3 |\n");
    fix("hand-span", "chords | 1 | 1 |\nleft | r !1+>3 | - |\n", "chords | 1 | 1 |\nleft | r !~1+>3 | - |\n");
  });

  test("roll it at every place", () => {
    fix(
      "hand-span",
      "chords | 1 | 1 |\nleft | 1+>3 1 | 1 1+>3 |\n",
      "chords | 1 | 1 |\nleft | ~1+>3 1 | 1 ~1+>3 |\n",
    );
    fix("hand-span", "chords | 1 |\nleft | 1+>3 = |\n", "chords | 1 |\nleft | ~1+>3 = |\n");
  });

  test("leave out a tone that the other hand has in its octave", () => {
    const before = "chords | 1 |\nright | >3+5 - |\nleft | 1+>3 |\n";
    expect(fixTitles("hand-span", before)).toEqual(["Roll it (~)", "Leave E3 out in the left hand"]);
    fix("hand-span", before, "chords | 1 |\nright | >3+5 - |\nleft | 1 |\n", 1);
  });

  test("leave out no tone that nobody else has", () => {
    expect(fixTitles("hand-span", "chords | 1 |\nright | 5 = |\nleft | 1+>3 |\n")).toEqual(["Roll it (~)"]);
  });

  test("turn it over, so that its outer tone lies an octave further in", () => {
    const before = "chords | 1 |\nright from C5 | 3 |\nleft from C3 | 1+>5 |\n";
    expect(fixTitles("hand-span", before)).toEqual([
      "Give G4 to the right hand",
      "Roll it (~)",
      "Move G4 down an octave",
    ]);
    fix("hand-span", before, before.replace("1+>5", "1+5"), 2);
  });

  test("change letters and exact pitches as well", () => {
    fix(
      "hand-span",
      "chords | C |\nright | G+C |\nleft | C2+E3 |\n",
      "chords | C |\nright | E3+G+C |\nleft | C2 |\n",
    );
  });

  test("mend a repeated text where it can't be held, and leave it where it can", () => {
    fix(
      "hand-span",
      "reach left 10\nchords | 1 b2 |\nleft | 1+>3 = |\n",
      "reach left 10\nchords | 1 b2 |\nleft | 1+>3 ~1+>3 |\n",
    );
  });
});
