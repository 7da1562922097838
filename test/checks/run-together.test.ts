import { describe, test } from "vitest";
import { check, fix } from "../support/check-chart.js";

describe("run-together", () => {
  test("asks for the colon between two numbers that run together", () => {
    check(
      "run-together",
      `
      section A
      chords | 67   2:9 |
               ^^ “67” is read as 6:7. Write the colon, …
      `,
    );
  });

  test("asks for it before an alteration too", () => {
    check(
      "run-together",
      `
      section A
      chords | 5b9 1 |
               ^^^ “5b9” is read as 5:b9. …
      `,
    );
  });

  test("has nothing to say where a colon stands, or where the quality starts with a letter", () => {
    check(
      "run-together",
      `
      section A
      chords | 6:7 2m7 | 5sus 1maj7 |
      `,
    );
  });

  test("writes the colon", () => {
    fix(
      "run-together",
      `
      section A
      chords | 67 2:9 |
      `,
      `
      section A
      chords | 6:7 2:9 |
      `,
    );
  });
});
