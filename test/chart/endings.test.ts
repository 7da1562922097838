import { describe, test } from "vitest";
import { expectSounds } from "../support/dump-chart.js";

describe("a push in a first ending", () => {
  test("counts from the chord at which the repeat starts again", () => {
    expectSounds(
      "chords | 6m |: 1 | 1. 4 :| 2. 5 |\nright | r | 3 | 3 !3 | 3 |",
      "right: | E3 | A3 !E3 | B3",
    );
  });

  test("goes back to the section's start where no sign says where", () => {
    expectSounds("chords | 1 | 1. 4 :| 2. 5 |\nright | 3 | 3 !3 | 3 |", "right: E3 | A3 !E3 | B3");
  });

  test("counts from a chord that is left in the ending", () => {
    expectSounds("chords |: 1 | 1. 4 | 5 :| 2. 1 |\nright | 3 | 3 !3 | r | 3 |", "right: E3 | A3 !B3 | | E3");
  });

  test("in a second ending counts from what follows", () => {
    expectSounds(
      "chords |: 1 | 1. 4 :| 2. 5 | 4 |\nright | 3 | 3 | 3 !3 | 3 |",
      "right: E3 | A3 | B3 !A3 | A3",
    );
  });
});
