import { describe, expect, test } from "vitest";
import { openDocument } from "../../server/src/document/document.js";
import { transposeChart } from "../../server/src/edits/transpose.js";
import { applyEdits } from "../../server/src/text/edits.js";
import { check, fix, fixTitles } from "../support/check-chart.js";
import { edited } from "../support/edit-chart.js";

/** The chart moved to A. */
const movedToA = (text: string): string =>
  edited(text, (document) => transposeChart(document, { tonic: 3, mode: undefined }));

describe("key-name", () => {
  test("tells of a key that players write under another name, wherever it stands", () => {
    check(
      "key-name",
      `
      key C# major
          ^^ C♯ major has 7 sharps and is hard to read. Write D♭ major, with 5 flats: it is the same sound.
      form A in G# B
                ^^ G♯ major has 8 sharps and is hard to read. Write A♭ major, with 4 flats: …
      section A
      chords | 1 |
      section B
      key Db minor
          ^^ D♭ minor has 8 flats and is hard to read. Write C♯ minor, with 4 sharps: …
      chords | 1 |
      play A in Cb
                ^^ C♭ major has 7 flats and is hard to read. Write B major, with 5 sharps: …
      `,
    );
  });

  test("lets both G♭ and F♯ major stand, and every key in use", () => {
    for (const key of ["Gb", "F#", "Db", "B", "G# minor", "Eb minor", "Bb minor", "D dorian", "F# locrian"]) {
      check("key-name", `key ${key}\nsection A\nchords | 1 |\n`);
    }
  });

  test("keeps the way home of a chart that was moved: its letters are respelled with its key", () => {
    const words = (key: string) =>
      `${key} ; moved\nform A in B\nsection A\nchords | 1 | C#m7/G# |\nlead | E#4 | 3 |\n`;
    const before = words("key C# (original A)");
    fix(
      "key-name",
      before,
      "key Db (original A) ; moved\nform A in B (original Cb)\nsection A\nchords | 1 | Dbm7/Ab |\nlead | F4 | 3 |\n",
    );
    expect(fixTitles("key-name", before)).toEqual(["Write Db, and respell the letters"]);
    fix("key-name", "key C♯ (original A)\nchords | 1 |\n", "key D♭ (original A)\nchords | 1 |\n");
    expect(fixTitles("key-name", "key C# (original A)\nchords | 1 |\n")).toEqual(["Write Db"]);
  });

  test("takes the original away where the name in use is the original", () => {
    fix("key-name", "key C# major (original Db)\nlead | E# |\n", "key Db major\nlead | F |\n");
    fix("key-name", "key C# (original C#)\nlead | E# |\n", "key Db (original C#)\nlead | F |\n");
  });

  test("comes home after its fix as it would have before", () => {
    const chart =
      "key C# (original A)\nsection A\nchords | 1 | G# |\nlead | E#4 B# | 3 |\nkey G#\nchords | C# |\n";
    const found = openDocument("chart.plagal", chart).problems.find(({ code }) => code === "key-name");
    const mended = applyEdits(chart, found?.fixes[0]?.edits ?? []);
    expect(mended).toContain("key Db (original A)\n");
    expect(movedToA(mended)).toBe(movedToA(chart));
  });

  test("leaves a later key no original that it isn't another name of", () => {
    const later = (words: string) => `section A\nchords | 1 |\n${words}\nchords | 1 |\n`;
    fix("key-name", later("key G# (original G#)"), later("key Ab (original G#)"));
    fix("key-name", later("key G# major (original Ab) ; up"), later("key Ab major ; up"));
    fix("key-name", later("key G#(original E)"), later("key Ab"));
    const form = (words: string) => `form A in ${words}\nsection A\nchords | 1 |\n`;
    fix("key-name", form("G# (original Ab) A"), form("Ab A"));
  });

  test("writes the name in use", () => {
    fix("key-name", "key D#m\nsection A\nchords | 1 |\n", "key Ebm\nsection A\nchords | 1 |\n");
  });
});
