import { describe, expect, test } from "vitest";
import { expectSounds, openChart } from "../support/dump-chart.js";

describe("a key line inside a section", () => {
  const through = (keys: readonly string[], mode = ""): string =>
    `section A\nlead | 1 |\n${keys.map((key) => `key ${key}${mode}\nlead | 1 |\n`).join("")}`;

  test("moves the home octaves the shorter way from the key in force there", () => {
    expectSounds(through(["F", "D", "Bb"]), "lead: C4 | F4 | D4 | Bb3");
    expectSounds(through(["G"]), "lead: C4 | G3");
    expectSounds(through(["B", "Bb", "A"]), "lead: C4 | B3 | Bb3 | A3");
  });

  test("the tritone goes down", () => {
    expectSounds(through(["F#"]), "lead: C4 | F#3");
    expectSounds(through(["Gb"]), "lead: C4 | Gb3");
  });

  test("unless that would put the 1 more than nine half steps from the chart's first 1: a chain of fourths never climbs away", () => {
    expectSounds(
      through(["F", "Bb", "Eb", "Ab", "Db", "Gb", "B", "E", "A", "D", "G", "C"]),
      `
      lead: C4 | F4 | Bb3 | Eb4 | Ab4 | Db4 | Gb4 | B3 | E4 | A4 | D4 | G4 | C4
    `,
    );
  });

  test("nine half steps up or down are still near", () => {
    expectSounds(through(["F", "A"]), "lead: C4 | F4 | A4");
    expectSounds(through(["G", "Eb"]), "lead: C4 | G3 | Eb3");
    expectSounds(through(["G", "D"]), "lead: C4 | G3 | D4");
  });

  test("at a section's start the key in force is the chart's own, and what another section did never counts", () => {
    expectSounds(
      "key Eb\nsection A\nkey A\nlead | 1 |\nkey Eb\nlead | 1 |\nsection B\nkey A\nlead | 1 |",
      `
      A
      lead: A3 | Eb4
      B
      lead: A3
    `,
    );
  });

  test("moves every row's home octave with its 1", () => {
    expectSounds(
      "section A\nright | k1 k2 |\nkey G\nright | k1 k2 k4 |\nleft | k1 |\nbass | 1 |",
      `
      right: C4 D4 | G3 A3 C3
      left: | G1
      bass: | G1
    `,
    );
  });

  test("another mode on the same tonic moves nothing", () => {
    expectSounds("section A\nlead | 3 |\nkey C minor\nlead | 3 |", "lead: E4 | Eb4");
  });

  test("(original …) behind it doesn't change where it sounds", () => {
    expectSounds(through(["Gb (original F#)"]), "lead: C4 | Gb3");
  });

  test("a key line that can't be read counts for nothing", () => {
    expectSounds("section A\nkey H\nlead | 1 |", "lead: C4");
  });
});

describe("(original …) on the first key line", () => {
  test("keeps the home octaves of the original key, moved the shorter way", () => {
    expectSounds("key F (original Ab)\nlead | 1 |", "lead: F4");
    expectSounds("key B (original C)\nlead | 1 |", "lead: B3");
    expectSounds("key C (original G)\nlead | 1 |", "lead: C5");
    expectSounds("key E (original A)\nlead | 1 |", "lead: E4");
    expectSounds("key Eb (original A)\nlead | 1 |", "lead: Eb4");
    expectSounds("key D (original A)\nlead | 1 |", "lead: D5");
    expectSounds("key Gb (original C)\nlead | 1 |", "lead: Gb3");
  });

  test("so that wherever a chart stands it lies within a tritone of where it was written", () => {
    for (const original of ["C", "Db", "F#", "A", "Bb"]) {
      const home = openChart(`key ${original}\nlead | 1 |`).chart.header.home.one;
      for (const key of ["C", "Db", "D", "Eb", "E", "F", "Gb", "F#", "G", "Ab", "A", "Bb", "B"]) {
        const by = openChart(`key ${key} (original ${original})\nlead | 1 |`).chart.header.home.one - home;
        expect(by).toBeGreaterThanOrEqual(-6);
        expect(by).toBeLessThanOrEqual(5);
      }
    }
  });

  test("a bare key starts afresh in its own home octaves", () => {
    expectSounds("key F\nlead | 1 |", "lead: F4");
    expectSounds("key G\nlead | 1 |", "lead: G4");
  });

  test("the nine half steps count from the moved chart's first 1", () => {
    expectSounds("key C (original G)\nsection A\nkey F\nlead | 1 |\nkey Bb\nlead | 1 |", "lead: F5 | Bb4");
  });
});
