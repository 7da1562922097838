import { describe, test } from "vitest";
import { check, fix } from "../support/check-chart.js";

describe("off-keyboard", () => {
  test("tells of a key that no piano has, once for a set of keys", () => {
    check(
      "off-keyboard",
      `
      section A
      left  | <<<k1 <k1 | <<<k1 -  |
              ^^^^^ C-1 lies off the keyboard: below its lowest key, A0. Move it up 2 octaves.
                          ~~~~~ Here again.
      right | C8 D9     | C8 -     |
                 ^^ D9 lies off the keyboard: above its highest, C8. Move it down 2 octaves.
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

  test("moves a whole stack where its top can't move alone, and as far as it takes", () => {
    fix("off-keyboard", "chords | 1 |\nright | >>>>>3+5+1 |\n", "chords | 1 |\nright | >>>>3+5+1 |\n");
    const far = ">".repeat(20);
    fix("off-keyboard", `chords | 1 |\nleft | ${far}1 |\n`, `chords | 1 |\nleft | ${">".repeat(6)}1 |\n`);
  });
});

test("a repeated text is mended where it lies off the keyboard, and stays where it doesn't", () => {
  fix("off-keyboard", "chords | 7 1 |\nleft | <<1 = |\n", "chords | 7 1 |\nleft | <<1 <1 |\n");
  fix("off-keyboard", "chords | 1 7 |\nleft | <<1 = |\n", "chords | 1 7 |\nleft | <1 <<1 |\n");
  fix("off-keyboard", "chords | 7 | 1 |\nleft | <<1 - | % |\n", "chords | 7 | 1 |\nleft | <<1 - | <1 - |\n");
  fix("off-keyboard", "chords | 1 |\nleft | <<1 = |\n", "chords | 1 |\nleft | <1 = |\n");
});
