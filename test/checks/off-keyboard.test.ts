import { describe, test } from "vitest";
import { check, fix } from "../support/check-chart.js";

describe("off-keyboard", () => {
  test("tells of a key that no piano has, once for a set of keys", () => {
    check(
      "off-keyboard",
      `
      section A
      left  | <<<k1 <k1 | <<<k1 -  |
              ^^^^^ C-1 lies off the keyboard: below its lowest key, A0. Move it up an octave.
                          ~~~~~ Here again.
      right | C8 D9     | C8 -     |
                 ^^ D9 lies off the keyboard: above its highest, C8. Move it down an octave.
      `,
    );
  });

  test("judges every key in which the form plays it", () => {
    check(
      "off-keyboard",
      `
      form A A in G
      section A
      left | A0 |
             ^^ A0 lies off the keyboard when it is played in G major: below its lowest key, A0. …
      `,
    );
  });

  test("brings it back", () => {
    fix("off-keyboard", "left | <<<k1 |\n", "left | <k1 |\n");
    fix("off-keyboard", "right | D9 |\n", "right | D7 |\n");
    fix("off-keyboard", "left | <<<k1+k3 |\n", "left | <k1+k3 |\n");
  });
});
