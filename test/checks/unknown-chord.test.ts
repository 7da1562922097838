import { describe, expect, test } from "vitest";
import { check, fix, fixTitles } from "../support/check-chart.js";

describe("unknown-chord", () => {
  test("tells of a text that is no chord, and of nothing that depends on it", () => {
    check(
      "unknown-chord",
      `
      section A
      chords | 1:mja7 H  /7    |
               ^^^^^^ “1:mja7” is not a chord. Did you mean 1maj7 or …
                      ^ “H” is not a chord. A chord is a number (1 to 7) or a letter (C, B♭), then its quality, …
      right  | 3+5    b9 0   - |
      `,
    );
  });

  test("writes the nearest chord", () => {
    fix("unknown-chord", "section A\nchords | 1:mja7 |\n", "section A\nchords | 1maj7 |\n");
  });

  test("offers nothing that is no chord itself: of a text with a stray end, what is meant without it", () => {
    check(
      "unknown-chord",
      `
      section A
      chords | 6!/ F | 1mja7/ F | C/ F |
               ^^^ “6!/” is not a chord. Did you mean 6m or 6:7 or 6:6?
                       ^^^^^^ “1mja7/” is not a chord. Did you mean 1maj7 or …
                                  ^^ “C/” is not a chord. Did you mean C?
      `,
    );
  });

  test("takes a chord whose parentheses don't match for one chord, and offers it with parentheses that do", () => {
    check(
      "unknown-chord",
      `
      section A
      chords | Cm7(b5 F | C7#9) F | Bbm7(add9 | Cm7(b5/Gb | 5:7(#9, b13 |
               ^^^^^^ “Cm7(b5” is not a chord. Did you mean Cm7(b5) or Cm7b5?
                          ^^^^^ “C7#9)” is not a chord. Did you mean C7(#9) or C7#9?
                                    ^^^^^^^^^ “Bbm7(add9” is not a chord. Did you mean Bbm7(add9) or Bbm7add9?
                                                ^^^^^^^^^ “Cm7(b5/Gb” is not a chord. Did you mean Cm7(b5)/Gb or …
                                                            ^^^^^^^^^^^ “5:7(#9, b13” is not a chord. Did you mean 5:7(#9, b13) or …
      chords | C7(#9)) F | C7((b9) | Dm7) C | 4(foo | (C F)) |
               ^^^^^^^ “C7(#9))” is not a chord. Did you mean C7(#9) or C7#9?
                           ^^^^^^^ “C7((b9)” is not a chord. Did you mean C7b9?
                                        ^ syntax: This “)” has no “(” before it in its bar. …
                                              ^^^^^ “4(foo” is not a chord. A chord is a number …
                                                           ^ syntax: This “)” has no “(” before it in its bar. …
      `,
    );
    fix("unknown-chord", "section A\nchords | Cm7(b5 F |\n", "section A\nchords | Cm7(b5) F |\n");
    fix("unknown-chord", "section A\nchords | C7#9) F |\n", "section A\nchords | C7(#9) F |\n");
    fix("syntax", "section A\nchords | Dm7) C |\n", "section A\nchords | Dm7 C |\n");
  });

  test("leaves a group beside such a chord as it is, and one around it", () => {
    check(
      "unknown-chord",
      `
      section A
      chords | (C7 F) Am7(b5 | (C Am7(b5) |
                      ^^^^^^ “Am7(b5” is not a chord. …
                               ^ syntax: This “(” has no “)” in its bar. …
      `,
    );
  });

  test("offers numbers for Roman numerals", () => {
    const meant: Readonly<Record<string, string>> = {
      I: "1",
      IV: "4",
      V7: "5:7",
      vi: "6m",
      ii7: "2m7",
      bVII: "b7",
      III: "3maj",
      "#iv°": "#4dim",
      viio7: "7dim7",
      viiø7: "7ø7",
      "ii-7": "2-7",
      iv6: "4m6",
      IVmaj7: "4maj7",
      iimaj7: "2m(maj7)",
      "ii7/5": "2m7/5",
      "I/iii": "1/3",
      "V7/ii": "6:7",
      "V/V": "2maj",
      "Vsus/1": "5sus/1",
    };
    for (const [roman, number] of Object.entries(meant)) {
      fix("unknown-chord", `section A\nchords | ${roman} 1 |\n`, `section A\nchords | ${number} 1 |\n`);
    }
    // In minor the plain 5 is a minor chord.
    expect(fixTitles("unknown-chord", "section A\nchords | V |\n")).toEqual(["Write 5", "Write 5maj"]);
    for (const word of ["iq", "IVORY", "Vx", "IIII", "V/VV"]) {
      expect(fixTitles("unknown-chord", `section A\nchords | ${word} |\n`), word).toEqual([]);
    }
  });

  test("knows the ways of writing no chord, and an n beside the m", () => {
    for (const silence of ["N.C.", "N.C", "n.c.", "nc", "NC.", "N/C"]) {
      fix("unknown-chord", `section A\nchords | ${silence} 1 |\n`, "section A\nchords | NC 1 |\n");
    }
    expect(fixTitles("unknown-chord", "section A\nchords | x |\n")).toEqual(["Write NC", "Write r"]);
    expect(fixTitles("unknown-chord", "section A\nchords | 2n7/1 |\n")).toEqual(["Write 2m7/1"]);
    expect(fixTitles("unknown-chord", "section A\nchords | Cnaj7 |\n")).toEqual(["Write Cmaj7"]);
  });
});
