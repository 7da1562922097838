// pmcharrison/hrep (MIT), inst/chord-qualities.csv: the table in hrep-table.ts, read as chord symbols.
import { expect, test } from "vitest";
import { numbersOf } from "../../server/src/theory/musicxml-kinds.js";
import { qualityOf, readQuality } from "../../server/src/theory/quality.js";
import { keyAbove } from "../../server/src/theory/tone-number.js";
import { overLetter, tonesOf } from "../support/chord-text.js";
import { aliases, differences, notOfTheTrade, rows, shared } from "./hrep-table.js";

test("the table has 74 rows and 137 aliases, of which 117 are read alike", () => {
  expect([rows.length, aliases.length, shared.length]).toEqual([74, 137, 117]);
});

test.each(rows)("the degrees of %s are %s on the keys too", (pitchClasses, degrees) => {
  const keys = [...new Set(numbersOf(degrees).map(keyAbove))].sort((a, b) => a - b);
  expect(keys.join(" ")).toBe(pitchClasses);
});

test.each(rows)("the chord %s, %s, has a symbol that reads as the same chord", (_pitchClasses, degrees) => {
  const quality = qualityOf(numbersOf(degrees));
  expect(tonesOf(quality)).toBe(degrees);
  expect(tonesOf(overLetter(quality.symbol))).toBe(degrees);
});

test.each(shared)("%s has %s", (alias, degrees) => {
  expect(tonesOf(overLetter(alias))).toBe(degrees);
});

test.each(notOfTheTrade)("%s, an academic label, is unknown", (alias) => {
  expect(readQuality(alias)).toBeUndefined();
});

test.each([...differences])("%s differs as listed", (alias, [tones]) => {
  expect(tonesOf(overLetter(alias))).toBe(tones);
  expect(aliases.find(([name]) => name === alias)?.[1]).not.toBe(tones);
});
