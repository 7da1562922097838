import { describe, expect, test } from "vitest";
import { check, fix, fixTitles } from "../support/check-chart.js";

describe("octave-sign", () => {
  test("tells of a sign before a letter that has its octave", () => {
    check(
      "octave-sign",
      `
      section A
      lead | G4 >G4 <<A4 A4 |
                ^ G4 has its octave already, so “>” doesn't move it. Take the sign away, or write the octave that you mean.
                    ^^ A4 has its octave already, so “<<” doesn't move it. …
      `,
    );
  });

  test("tells of a < inside a stack", () => {
    check(
      "octave-sign",
      `
      section A
      chords | 1         |
      right  | 3+<5+_<1  |
                 ^ In a stack each tone is the next one up, so “<” before 5 does nothing. Take it away, or write the lower tone first.
                     ^ In a stack each tone is the next one up, so “<” before _1 does nothing. …
                    ^^^ nothing-to-hold: C4 didn't sound …
      `,
    );
  });

  test("tells of an exact letter in a group that moves", () => {
    check(
      "octave-sign",
      `
      section A
      lead | >( G4 5 ) <( A4 ) |
                ^^ G4 has its octave already, so the sign before its group doesn't move it. Write the octave that you mean, or the letter without one.
                          ^^ A4 has its octave already, …
      `,
    );
  });

  test("lets signs stand where they move a tone", () => {
    check(
      "octave-sign",
      `
      reach 10
      section A
      chords | 1               |
      right  | >3+5 3+>5       |
      lead   | >( 1 2 ) >C >D >C |
      `,
    );
  });

  test("tells once of a slot that = and % repeat", () => {
    check(
      "octave-sign",
      `
      section A
      lead | >G4 = | % |
             ^ G4 has its octave already, …
      `,
    );
  });

  test("takes the sign away", () => {
    fix("octave-sign", "section A\nlead | >G4 5 |\n", "section A\nlead | G4 5 |\n");
    fix(
      "octave-sign",
      `
      section A
      chords | 1       |
      right  | 3+<5+1  |
      `,
      `
      section A
      chords | 1       |
      right  | 3+5+1  |
      `,
    );
  });

  test("writes the octave that the signs ask for", () => {
    expect(fixTitles("octave-sign", "section A\nlead | >>Bb3 |\n")).toEqual(["Write Bb3", "Write Bb5"]);
    expect(fixTitles("octave-sign", "section A\nlead | >Bb3+D |\n")).toEqual(["Write Bb3"]);
    fix("octave-sign", "section A\nlead | >>Bb3 |\n", "section A\nlead | Bb5 |\n", 1);
    fix("octave-sign", "section A\nlead | <A~>Bb5 |\n", "section A\nlead | A~Bb5 |\n");
  });

  test("offers no fix for a group, whose other tones the sign does move", () => {
    expect(fixTitles("octave-sign", "section A\nlead | >( G4 5 ) |\n")).toEqual([]);
  });
});
