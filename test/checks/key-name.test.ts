import { describe, test } from "vitest";
import { check, fix } from "../support/check-chart.js";

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

  test("writes the name in use", () => {
    fix("key-name", "key D#m\nsection A\nchords | 1 |\n", "key Ebm\nsection A\nchords | 1 |\n");
  });
});
