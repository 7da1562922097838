import { expect, test } from "vitest";
import { editDistance, nearest } from "../../server/src/text/nearest.js";
import { usualQualities } from "../../server/src/theory/usual-qualities.js";

test.each([
  ["maj8", "maj7"],
  ["susu", "sus"],
  ["mjr7", "maj7"],
  ["dimm", "dim"],
  ["13#1", "13#11"],
  ["7sus44", "7sus4"],
  ["7atl", "7alt"],
])("to %s are led by %s", (text, first) => {
  expect(nearest(text, usualQualities, 2, 3)).toContain(first);
});

test("are none where nothing is alike", () => {
  expect(nearest("zzzzzz", usualQualities, 2, 3)).toEqual([]);
});

test("a letter more, less, other or swapped is one step, and no more steps are counted than asked for", () => {
  expect(["chord", "chordss", "chorda", "chrods"].map((text) => editDistance(text, "chords", 2))).toEqual([
    1, 1, 1, 1,
  ]);
  expect(editDistance("left", "words", 2)).toBe(3);
});
