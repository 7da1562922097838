import { describe, expect, test } from "vitest";
import { check, fix, fixTitles } from "../support/check-chart.js";

describe("unknown-word", () => {
  test("tells of a line that starts with no word of the language", () => {
    check(
      "unknown-word",
      `
      tittle Evening
      ^^^^^^ “tittle” is not a word that starts a line. Did you mean “title”?
      section A
      Chords | 1 |
      ^^^^^^ “Chords” is not a word that starts a line. Did you mean “chords”?
      hum    | 1 |
      ^^^ “hum” is not a word that starts a line. A line starts with a row …
      `,
    );
  });

  test("writes the nearest word", () => {
    fix("unknown-word", "section A\nchrods | 1 |\n", "section A\nchords | 1 |\n");
  });

  test("offers the section that a line opens without saying so", () => {
    for (const line of ["Chorus:", "[Chorus]", "[Chorus]:", "Chorus"]) {
      fix(
        "unknown-word",
        `key C major\n${line} ; loud\nchords | 1 |\n`,
        "key C major\nsection Chorus ; loud\nchords | 1 |\n",
      );
    }
    for (const line of ["CHORUS", "verse 2", "Benediction", "pre-chorus"]) {
      fix("unknown-word", `${line}\nchords | 1 |\n`, `section ${line}\nchords | 1 |\n`);
    }
  });

  test("offers no section for a chord, a row or a sentence", () => {
    for (const line of ["Am7", "Cmaj7", "go to the verse after the prayer", "hum | 1 |"]) {
      expect(fixTitles("unknown-word", `section A\n${line}\n`), line).toEqual([]);
    }
    expect(fixTitles("unknown-word", "section A\nChords:\n")).toEqual(["Write chords"]);
    expect(fixTitles("unknown-word", "Tittle\n")).toEqual(["Write title"]);
  });
});
