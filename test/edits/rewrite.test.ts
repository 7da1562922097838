import { describe, expect, test } from "vitest";
import { type RewrittenRow, rewriteRows } from "../../server/src/edits/rewrite.js";
import { chartText, edited } from "../support/edit-chart.js";

const all: readonly RewrittenRow[] = ["chords", "right", "left", "lead", "bass"];

const rewrite = (text: string, to: "numbers" | "letters", rows = all): string =>
  edited(text, (document) => rewriteRows(document, to, rows));

const bothWays = (numbers: string, letters: string, rows = all): void => {
  const [one, two] = [chartText(numbers), chartText(letters)];
  expect(rewrite(one, "letters", rows)).toBe(two);
  expect(rewrite(two, "numbers", rows)).toBe(one);
};

describe("numbers and letters", () => {
  test("the chord row alone is turned where nothing else is asked for", () => {
    bothWays(
      `
      key Eb
      chords | 1 3 | 4 2m6 | 5:7sus 6:7/b2 | b7 /3 7 b6m |
      right  | 3 3 | 3 3 | 4 3 | 3 3 3 3 |
      `,
      `
      key Eb
      chords | Eb Gm | Ab Fm6 | Bb7sus C7/Fb | Db /G Ddim Cbm |
      right  | 3 3 | 3 3 | 4 3 | 3 3 3 3 |
      `,
      ["chords"],
    );
  });

  test("tones keep their signs, and the lead counts from the key", () => {
    bothWays(
      `
      key Eb
      lead   | <5 >1 |
      chords | 2m7 5:7 |
      right  | ~b7+>b3 _b7+b9 |
      left   | !b3~3+5 <1 |
      `,
      `
      key Eb
      lead   | <Bb >Eb |
      chords | Fm7 Bb7 |
      right  | ~Eb+>Ab _Ab+Cb |
      left   | !Db~D+F <Bb |
      `,
    );
  });

  test("a minor key counts along its own scale", () => {
    bothWays(
      "key Am\nlead | 1 3 #6 7 |\nchords | 1 3 5:7 #7dim |\n",
      "key Am\nlead | A C F# G |\nchords | Am C E7 G#dim |\n",
    );
  });

  test("a hand's letter without a chord counts from the key", () => {
    bothWays("right | k1+k3 |\n", "right | C+E |\n");
  });

  test("a = whose tones would differ is written out", () => {
    expect(rewrite("chords | 1 4 |\nright | ~_3+5 = |\n", "letters")).toBe(
      "chords | C F |\nright | ~_E+G ~A+C |\n",
    );
    expect(rewrite("chords | 1 / |\nright | 3+5 = |\n", "letters")).toBe("chords | C / |\nright | E+G = |\n");
    expect(rewrite("chords | 1 4 1 4 |\nright | 3 = = - |\n", "letters")).toBe(
      "chords | C F C F |\nright | E A E - |\n",
    );
    expect(rewrite("chords | C F C F |\nright | E = = = |\n", "numbers")).toBe(
      "chords | 1 4 1 4 |\nright | 3 7 3 7 |\n",
    );
    expect(rewrite("chords | C F |\nright | E = |\n", "numbers")).toBe("chords | 1 4 |\nright | 3 7 |\n");
  });

  test("a % whose tones would differ is written out, with its groups", () => {
    expect(rewrite("chords | 1 | 4 |\nright | >( 3 = ) _5 | % |\n", "letters")).toBe(
      "chords | C | F |\nright | >( E = ) _G | >( A = ) _C |\n",
    );
    expect(rewrite("chords | 1 | 4 | 1 | 1 |\nright | 3 | % | % | % |\n", "letters")).toBe(
      "chords | C | F | C | C |\nright | E | A | E | % |\n",
    );
    expect(rewrite("chords | 1 | / |\nright | 3 5 | % |\n", "letters")).toBe(
      "chords | C | / |\nright | E G | % |\n",
    );
  });

  test("exact pitches and numbers without a chord stay, and are said", () => {
    const text = "right | C4 3 |\n";
    expect(rewrite(text, "numbers")).toBe(text);
    expect(rewrite(text, "letters")).toBe(text);
  });

  test("a letter too far from the key for a number stays", () => {
    const text = "key D# phrygian\nchords | Cb | D#m/Cb /Cb |\n";
    expect(rewrite(text, "numbers")).toBe(text);
  });

  test("a grace note counts as its tone does", () => {
    expect(rewrite("chords | 4 |\nlead | 2~3 2~c3 |\nright | 2~k3 b3~3 |\n", "letters")).toBe(
      "chords | F |\nlead | D~E G~A |\nright | D~E Ab~A |\n",
    );
    expect(rewrite("chords | 4 |\nlead | D~c3 |\nright | D~k3 D~3 |\n", "numbers")).toBe(
      "chords | 4 |\nlead | 6~c3 |\nright | 2~k3 6~3 |\n",
    );
    expect(rewrite("right | 3~E D~E |\n", "numbers")).toBe("right | 3~E 2~k3 |\n");
  });

  test("what is written so already stays as it is spelled", () => {
    expect(rewrite("chords | CΔ | Fmin7 |\n", "letters")).toBe("chords | CΔ | Fmin7 |\n");
    expect(rewrite("chords | 1Δ | 67 |\n", "numbers")).toBe("chords | 1Δ | 67 |\n");
  });
});
