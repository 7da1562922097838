import { describe, expect, test } from "vitest";
import { openDocument } from "../../server/src/document/document.js";
import { check } from "../support/check-chart.js";

describe("bar-length", () => {
  test("tells of a pickup that is longer than the bar before it in its section", () => {
    check(
      "bar-length",
      `
      section A
      time 2/4
      lead | 1 |
      time 4/4
      lead 1 2 3 | 4 |
           ^^^^^ This pickup has 3 beats, and the bar that it covers has room for 2. Shorten it, or write a bar of its own for it.
      `,
    );
  });

  test("lets a pickup be as long as that bar", () => {
    check(
      "bar-length",
      `
      section A
      time 2/4
      lead | 1 |
      time 4/4
      lead 2 3 | 4 |
      `,
    );
  });

  test("takes the section's own first bar where nothing is played before", () => {
    check(
      "bar-length",
      `
      time 3/4
      section A
      lead 1 2 3 4 | 5 |
           ^^^^^^^ This pickup has 4 beats, and the bar that it covers has room for 3. …
      left C2 D2 E2 | C2 |
      `,
    );
  });

  test("takes the last bar of what the form plays before", () => {
    check(
      "bar-length",
      `
      section A
      lead 1 2 3 4 | 5 |
           ^^^^^^^ This pickup has 4 beats, and the bar that it covers has room for 3. …
      section B
      lead | 1 |
      time 3/4
      lead | 1 |

      form A B A
      `,
    );
  });

  test("takes the sections in written order where there is no form", () => {
    check(
      "bar-length",
      `
      section A
      time 2/4
      lead | 1 |
      section B
      lead 1 2 3 | 4 |
           ^^^^^ This pickup has 3 beats, and the bar that it covers has room for 2. …
      `,
    );
  });

  test("takes the end of a section that is played twice as what comes before it", () => {
    check(
      "bar-length",
      `
      section A
      lead 1 2 3 4 | 5 |
           ^^^^^^^ This pickup has 4 beats, and the bar that it covers has room for 2. …
      time 2/4
      lead | 1 |

      form A x2
      `,
    );
    check(
      "bar-length",
      `
      section A
      lead 1 2 3 4 | 5 |
      time 2/4
      lead | 1 |

      form A
      `,
    );
  });

  test("takes the end of a section that is played in between", () => {
    check(
      "bar-length",
      `
      section A
      lead | 1 |
      play B x2
      lead 1 2 3 | 4 |
           ^^^^^ This pickup has 3 beats, and the bar that it covers has room for 2. …
      section B
      time 2/4
      lead | 1 |

      form A
      `,
    );
  });

  test("goes into a section through one that it plays first", () => {
    check(
      "bar-length",
      `
      section A
      time 2/4
      lead | 1 |
      section B
      play C
      lead | 1 |
      section C
      lead 1 2 3 | 4 |
           ^^^^^ This pickup has 3 beats, and the bar that it covers has room for 2. …

      form A B
      `,
    );
  });

  test("measures in beats of the pickup's own meter", () => {
    check(
      "bar-length",
      `
      section A
      time 6/8
      lead | 1 |
      time 4/4
      lead 1 2 3 | 4 |

      time 3/8
      lead | 1 |
      time 4/4
      lead 1 2 | 4 |
           ^^^ This pickup has 2 beats, and the bar that it covers has room for 1. …
      `,
    );
  });

  test("counts groups as one beat, and words not at all", () => {
    check(
      "bar-length",
      `
      time 2/4
      section A
      lead  (1 2) (3 4) | 5    |
      words out on the  | sea  |
      cue   not too soon now | soft |
      `,
    );
  });

  test("judges a section that the form leaves out by itself, and two of one text each in its place", () => {
    check(
      "bar-length",
      `
      section A
      lead | 1 |
      section "Short"
      time 2/4
      lead | 1 |
      section A2
      lead 1 2 3 | 4 |
           ^^^^^ This pickup has 3 beats, and the bar that it covers has room for 2. …
      section A3
      lead 1 2 3 | 4 |

      form A "Short" A2 A3
      `,
    );
  });

  test("goes through sections that play each other once", () => {
    const text = `
time 2/4
section A
play B
lead 1 2 3 | 4 |
section B
play A x2
lead | 1 |
form A B
`;
    const { problems } = openDocument("chart.plagal", text);
    expect(problems.filter(({ code }) => code === "bar-length").map(({ row }) => row)).toEqual(["lead"]);
  });

  test("says nothing of a pickup in another chart's section", () => {
    check(
      "bar-length",
      `
      use "tags.plagal"
      section A
      lead | 1 |
      form A Tag
      `,
      { "tags.plagal": "time 2/4\nsection Tag\nlead 1 2 3 4 5 | 1 |\n" },
    );
  });
});
