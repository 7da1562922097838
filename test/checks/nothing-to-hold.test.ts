import { describe, expect, test } from "vitest";
import { check, fix, fixTitles } from "../support/check-chart.js";

describe("nothing-to-hold", () => {
  test("tells of - at a row's start in its section, once", () => {
    check(
      "nothing-to-hold",
      `
      section A
      lead | - - 1 - |
             ^ Nothing stands before this “-” in its row, so there is nothing to hold and it rests. Write the tones, or r.
      section B
      lead | - | 1 |
             ^ Nothing stands before this “-” in its row, …
      `,
    );
  });

  test("tells of / at the start of a section's chords, and of a bass alone", () => {
    check(
      "nothing-to-hold",
      `
      section A
      chords | / / 1 / |
               ^ No chord stands before this “/” in its section, so there is none to go on with. Write the chord, or NC.
      section B
      chords | /7 4 |
               ^^ “/7” is a bass for the chord before it, and none stands before it in its section. Write the chord too: 1/7.
      `,
    );
  });

  test("tells of _ before a tone that didn't sound, and where it did", () => {
    check(
      "nothing-to-hold",
      `
      section A
      chords | 1           |
      left   | 1+5 _>1+5   |
                   ^^^ C3 didn't sound in this row just before, so “_>1” is struck. C2 did: write the octave of that one, or take the _ away.
      lead   | 1   _2      |
                   ^^ D4 didn't sound in this row just before, so “_2” has nothing to hold and is struck. Take the _ away, or hold a tone that sounds.
      `,
    );
  });

  test("names the tone as it is spelled in the key", () => {
    check(
      "nothing-to-hold",
      `
      key Eb major
      section A
      lead | 1 _4 |
               ^^ A♭4 didn't sound …
      `,
    );
  });

  test("lets what sounds be held: over bars, systems, rests and from pickups", () => {
    check(
      "nothing-to-hold",
      `
      section A
      chords | 1         | /        |
      right  | 3+5+1     | _3+_5+9  |
      lead   | 1         | r -      |

      chords | /7        | NC /     |
      right  | -         | - r      |
      lead   - | - 1     | -        |
      `,
    );
  });

  test("tells once of a tone that % repeats", () => {
    check(
      "nothing-to-hold",
      `
      section A
      lead | 1 _2 | % | % |
               ^^ D4 didn't sound …
      `,
    );
  });

  test("has nothing to say after a slot that can't be read", () => {
    check(
      "nothing-to-hold",
      `
      section A
      lead | 12 - _1 |
             ^^ unknown-tone: “12” is not a tone. …
      `,
    );
  });

  test("writes r for -, and NC for /", () => {
    fix("nothing-to-hold", "section A\nlead | - 1 |\n", "section A\nlead | r 1 |\n");
    fix("nothing-to-hold", "section A\nchords | / 1 |\n", "section A\nchords | NC 1 |\n");
    fix("nothing-to-hold", "section A\nchords | // 1 / |\n", "section A\nchords | NC / 1 / |\n");
    expect(fixTitles("nothing-to-hold", "section A\nchords | /7 1 |\n")).toEqual([]);
  });

  test("finds the tone by < or >, the nearest first, or strikes it", () => {
    const chart = "section A\nlead | <1+1+1 _>>1 |\n";
    expect(fixTitles("nothing-to-hold", chart)).toEqual(["Write _>1", "Write _1", "Write _<1", "Write >>1"]);
    fix("nothing-to-hold", chart, "section A\nlead | <1+1+1 _>1 |\n");
    fix("nothing-to-hold", chart, "section A\nlead | <1+1+1 _<1 |\n", 2);
    fix("nothing-to-hold", chart, "section A\nlead | <1+1+1 >>1 |\n", 3);
    fix("nothing-to-hold", "section A\nlead | >1 _k1 |\n", "section A\nlead | >1 _>k1 |\n");
  });

  test("offers no < for a tone that stands above others in its stack", () => {
    expect(fixTitles("nothing-to-hold", "section A\nlead | 5 1+5+_5 |\n")).toEqual(["Write 5"]);
    expect(fixTitles("nothing-to-hold", "section A\nlead | 5 1+_>5 |\n")).toEqual(["Write _5", "Write >5"]);
  });

  test("moves a letter that has its octave by that octave", () => {
    fix("nothing-to-hold", "section A\nlead | Bb4 _Bb3 |\n", "section A\nlead | Bb4 _Bb4 |\n");
  });
});
