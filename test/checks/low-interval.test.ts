import { describe, expect, test } from "vitest";
import { check, fix, fixTitles } from "../support/check-chart.js";

describe("low-interval", () => {
  test("tells of a third that lies too low, with where it would be clear, once for a set of keys", () => {
    check(
      "low-interval",
      `
      section A
      left | C2+E2 C3+E3 | E2 C2+E2 | r - _C2+E2 - |
             ^^^^^ C2 and E2 lie too low to be clear. Keep a major third from B♭2 up, or move both up an octave.
                              ~~~~~ Here again.
      `.replace(" | r - _C2+E2 - |", " |"),
    );
  });

  test("lets fifths, octaves and tenths lie where they are clear", () => {
    check("low-interval", "reach 11\nsection A\nleft | C2+G2 | C2+C3 | C2+E3 | Bb1+F2 |\n");
  });

  test("judges every key in which the form plays it, and names those that fail", () => {
    check(
      "low-interval",
      `
      form A A in G A down whole
      section A
      left | Eb3+F3 |
             ^^^^^^ E♭3 and F3 lie too low to be clear when played in G major and B♭ major. Keep a whole step from E♭3 up, …
      `,
    );
  });

  test("counts what is held", () => {
    check(
      "low-interval",
      `
      section A
      left | C2 _C2+E2 |
                ^^^^^^ C2 and E2 lie too low to be clear. …
      `,
    );
  });

  test("opens the voicing where that makes it clear", () => {
    const chart = "reach 15\nsection A\nchords | 1 |\n";
    fix("low-interval", `${chart}left | 1+3+5 |\n`, `${chart}left | 1+>3+5 |\n`);
    fix("low-interval", `${chart}left | C2+E2 |\n`, `${chart}left | C2+E3 |\n`);
    expect(fixTitles("low-interval", `${chart}left | 1+3 |\n`)).toEqual([
      "Move E2 up an octave",
      "Move both up an octave",
      "Leave E2 out",
    ]);
  });

  test("puts the sign of a tone that is slipped into behind its ~", () => {
    const chart = "reach 12\nsection A\nchords | 1 |\n";
    fix("low-interval", `${chart}left | 1+k4~3 |\n`, `${chart}left | 1+k4~>3 |\n`);
    fix("low-interval", `${chart}left | 1+4~3 |\n`, `${chart}left | 1+4~>3 |\n`);
    fix("low-interval", `${chart}left | 1+F~E |\n`, `${chart}left | 1+F~>E |\n`);
  });

  test("never asks for more than the hand reaches, a ninth where nobody says", () => {
    const chart = "section A\nchords | 1 |\n";
    const stack = `${chart}left | 1+3+5 |\n`;
    expect(fixTitles("low-interval", stack)).toEqual(["Move the whole stack up an octave", "Leave E2 out"]);
    fix("low-interval", stack, `${chart}left | >1+3+5 |\n`);
    fix("low-interval", stack, `${chart}left | 1+5 |\n`, 1);
    fix("low-interval", `${chart}left | C2+E2 |\n`, `${chart}left | C3+E3 |\n`);
    fix("low-interval", `${chart}left | C2+E2 |\n`, `${chart}left | C2 |\n`, 1);
    // A tenth of a tenth's reach, and of a reach that only the other hand has.
    const first = (reach: string) => fixTitles("low-interval", `${reach}\n${chart}left | 1+3 |\n`)[0];
    expect(first("reach 10")).toBe("Move E2 up an octave");
    expect(first("reach right 10")).toBe("Move both up an octave");
    expect(first("reach left 10")).toBe("Move E2 up an octave");
  });

  test("goes by the widest of the keys in which the form plays it", () => {
    // D♭–F is a wide tenth of a black and a white key: a hand that holds C–E needs not hold it.
    const chart = (form: string) => `reach 10\n${form}section A\nchords | 1 |\nleft | 1+3 |\n`;
    expect(fixTitles("low-interval", chart(""))[0]).toBe("Move E2 up an octave");
    expect(fixTitles("low-interval", chart("form A A in Db\n"))[0]).toBe("Move both up an octave");
  });

  test("lets a roll be as wide as it likes, and another player too", () => {
    expect(fixTitles("low-interval", "section A\nchords | 1 |\nleft | ~1+3 |\n")[0]).toBe(
      "Move E2 up an octave",
    );
    expect(fixTitles("low-interval", "section A\nleft | r |\nbass | 1+3 |\n")[0]).toBe(
      "Move E2 up an octave",
    );
    expect(fixTitles("low-interval", "section A\nbass | 1+3 |\n")[0]).toBe("Move both up an octave");
  });

  test("leaves a tone out only where the others stay, and offers nothing where one is held", () => {
    expect(fixTitles("low-interval", "section A\nleft | E2+C2 |\n")).toEqual(["Move both up an octave"]);
    expect(fixTitles("low-interval", "section A\nleft | C2 _C2+E2 |\n")).toEqual([]);
  });

  test("offers nothing that would be muddy where = or % repeats the text under another chord", () => {
    expect(fixTitles("low-interval", "section A\nchords | C |\nleft | F2+5 |\n")).toContain("Leave G2 out");
    // Under E♭ the 6 is C, under B♭ it is G: without its 3 the stack still has F2 and G2 there.
    const stack = "left | F2+3+6 | % |\n";
    expect(fixTitles("low-interval", `section A\nchords | Eb | Bb |\n${stack}`)).not.toContain(
      "Leave G2 out",
    );
    expect(fixTitles("low-interval", `section A\nchords | Eb | Eb7 |\n${stack}`)).toContain("Leave G2 out");
  });

  test("tells once of a text that = repeats under another chord", () => {
    check(
      "low-interval",
      `
      section A
      chords | 1 4   |
      left   | 1+3 = |
               ^^^ C2 and E2 lie too low to be clear. …
      `,
    );
  });
});
