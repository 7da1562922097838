import { describe, expect, test } from "vitest";
import { check, fix, fixTitles } from "../support/check-chart.js";

describe("lands-elsewhere", () => {
  test("tells of a lead-in before a section that starts on another chord, counted in that section's key", () => {
    check(
      "lands-elsewhere",
      `
      key C
      form Walk Verse Walk Bridge Walk
           ^^^^ “Walk” lands on the 4 (F), but “Verse” starts on C, the 1. Choose another lead-in here, or write “lands 1”.
      section Walk
      lands 4
            ~ Here it says where it lands.
      chords | 1:7 |
      section Verse
      chords | 1 |
      section Bridge
      key Eb
      chords | 4maj7 |
      `,
    );
  });

  test("judges by sound, past pickups, and through sections that begin by playing another", () => {
    check(
      "lands-elsewhere",
      `
      key C
      form Walk A Walk B in D
      section Walk
      lands b7
      chords | 4:7 |
      section A
      chords 5:7 | Bb |
      section B
      play A
      chords | 1 |
      `,
    );
  });

  test("hears what follows a lead-in that is played inside a section", () => {
    check(
      "lands-elsewhere",
      `
      form A B
      section Walk
      lands 1
            ~ Here it says where it lands.
      chords | 5:7 |
      section A
      chords | 1 |
      play Walk
      chords | 1 |

      chords | 1 |
      play Walk
           ^^^^ “Walk” lands on the 1 (C), but “B” starts on F, the 4. …
      section B
      chords | 4 |
      `,
    );
  });

  test("says nothing at the form's end, before silence, or where no form says what follows", () => {
    check("lands-elsewhere", "form A Walk\nsection Walk\nlands 4\nchords | 1:7 |\nsection A\nchords | 1 |\n");
    check(
      "lands-elsewhere",
      "form Walk A\nsection Walk\nlands 4\nchords | 1:7 |\nsection A\nchords | r 1 |\n",
    );
    check("lands-elsewhere", "section Walk\nlands 4\nchords | 1:7 |\nsection A\nchords | 1 |\n");
  });

  test("can write where it lands", () => {
    fix(
      "lands-elsewhere",
      "form Walk A\nsection Walk\nlands 4\nchords | 5:7 |\nsection A\nchords | 1 |\n",
      "form Walk A\nsection Walk\nlands 1\nchords | 5:7 |\nsection A\nchords | 1 |\n",
    );
  });

  test("names the chords as they are played there", () => {
    check(
      "lands-elsewhere",
      `
      form Walk A in D
           ^^^^ “Walk” lands on the 4 (G), but “A” starts on Dmaj7, the 1. …
      section Walk
      lands 4
            ~ Here it says where it lands.
      chords | 1:7 |
      section A
      chords | 1maj7 |
      `,
    );
  });

  test("tells each of two equal play lines", () => {
    check(
      "lands-elsewhere",
      `
      form A B A
      section Walk
      lands 1
            ~ Here it says where it lands.
            ~ Here it says where it lands.
      chords | 5:7 |
      section A
      chords | 4 |
      play Walk
           ^^^^ “Walk” lands on the 1 (C), but “B” starts on F, the 4. …
      section B
      chords | 4 |
      play Walk
           ^^^^ “Walk” lands on the 1 (C), but “A” starts on F, the 4. …
      `,
    );
  });

  test("looks past a repetition of the lead-in itself, but not of the section that ends with it", () => {
    check(
      "lands-elsewhere",
      `
      form Walk x2 A
      section Walk
      lands 4
      chords | 1 |
      section A
      chords | 4 | 5 |
      `,
    );
    check(
      "lands-elsewhere",
      `
      form A x2
      section Walk
      lands 4
            ~ Here it says where it lands.
      chords | 1:7 |
      section A
      chords | 1 |
      play Walk
           ^^^^ “Walk” lands on the 4 (F), but “A” starts on C, the 1. …
      `,
    );
  });

  test("says nothing where a name that nobody has stands between, or a chord that can't be read", () => {
    check(
      "lands-elsewhere",
      `
      form Walk Vers A Walk B
                ^^^^ unknown-section: …
      section Walk
      lands 4
      chords | 1:7 |
      section A
      chords | 1 |
      section B
      chords | 4x 1 |
               ^^ unknown-chord: …
      `,
    );
  });

  test("offers no other number where that would be wrong for another word", () => {
    expect(
      fixTitles(
        "lands-elsewhere",
        "form Walk A Walk B\nsection Walk\nlands 4\nchords | 1:7 |\nsection A\nchords | 4 |\nsection B\nchords | 1 |\n",
      ),
    ).toEqual([]);
  });

  describe("offers no other number where what is pushed to it", () => {
    const titles = (form: string, pushed: string, next = "6m") =>
      fixTitles(
        "lands-elsewhere",
        `form ${form}\nsection Walk\nlands 4\nchords | 1:7 |\nright | 3+b7 ${pushed} |\nsection A\nchords | ${next} |\n`,
      );

    test("would leave the keyboard in a key that the form plays", () => {
      expect(titles("Walk A", "!>>>>1")).toEqual(["Write lands 6"]);
      expect(titles("Walk up half A up half", "!>>>>1")).toEqual(["Write lands 6"]);
      const high = "Walk A Walk up whole A up whole Walk in E A in E";
      expect(titles(high, "!>>>1")).toEqual(["Write lands 6"]);
      expect(titles(high, "!>>>>1")).toEqual([]);
    });

    test("would leave the hand", () => {
      expect(titles("Walk A", "!1+E4", "3m")).toEqual(["Write lands 3"]);
      expect(titles("Walk A", "!1+G4", "3m")).toEqual([]);
    });
  });
});
