import { describe, test } from "vitest";
import { check, fix } from "../support/check-chart.js";

describe("sign-order", () => {
  test("hints at signs in another order than the usual one", () => {
    check(
      "sign-order",
      `
      section A
      chords | 1               |
      right  | ~!3+5+1 k>3+5+1 |
               ^^^^^^^ “~!3+5+1” is usually written !~3+5+1: it sounds the same.
                       ^^^^^^^ “k>3+5+1” is usually written >k3+5+1: it sounds the same.
      lands 1
      `,
    );
  });

  test("lets the usual order be", () => {
    check(
      "sign-order",
      `
      section A
      lands 1
      chords | 1                 |
      right  | >k3+5+1 !~3+5+1   |
      lead   | 3~>1 _>1          |
      `,
    );
  });

  test("writes the usual order", () => {
    fix("sign-order", "section A\nlead | k>3 |\n", "section A\nlead | >k3 |\n");
  });
});
