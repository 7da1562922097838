import fc from "fast-check";
import { expect, test } from "vitest";
import { movedOffset, type TextStep } from "../../client/moved-offset.js";
import { property } from "../support/property.js";

/** A step that writes `text` in place of what stands between two places. */
const step = (version: number, ...changes: readonly (readonly [number, number, string])[]): TextStep => ({
  version,
  changes: changes.map(([from, to, text]) => ({ rangeOffset: from, rangeLength: to - from, text })),
});

test.each([
  ["what is typed before it moves it", 10, [step(2, [3, 3, "ab"])], 12],
  ["what is typed behind it doesn't", 10, [step(2, [11, 11, "ab"])], 10],
  ["what is typed right at it comes before it", 10, [step(2, [10, 10, "ab"])], 12],
  ["what is taken out before it moves it back", 10, [step(2, [3, 5, ""])], 8],
  ["where it was taken out itself its place stays", 10, [step(2, [8, 12, "abc"])], 8],
  ["several places of one step count from one text", 10, [step(2, [8, 9, ""], [2, 2, "xyz"])], 12],
  ["steps follow one another", 10, [step(2, [0, 0, "ab"]), step(3, [11, 11, "c"])], 13],
  ["steps up to the version that is shown are in it", 10, [step(1, [0, 0, "ab"]), step(2, [0, 0, "c"])], 11],
] as const)("%s", (_, offset, steps, moved) => {
  expect(movedOffset(offset, 1, steps)).toBe(moved);
});

const change = fc.tuple(fc.nat(30), fc.nat(4), fc.string({ maxLength: 3, unit: fc.constantFrom("a", "b") }));
property(
  "a letter that stays is found where it stands, whatever is typed around it",
  fc.tuple(fc.array(change, { maxLength: 12 }), fc.nat(20)),
  500,
  ([changes, at]) => {
    let text = `${"-".repeat(at)}X${"-".repeat(20 - at)}`;
    const steps: TextStep[] = [];
    for (const [place, length, typed] of changes) {
      const from = Math.min(place, text.length);
      const to = Math.min(from + length, text.length);
      if (text.slice(from, to).includes("X")) continue;
      text = text.slice(0, from) + typed + text.slice(to);
      steps.push(step(steps.length + 2, [from, to, typed]));
    }
    expect(text[movedOffset(at, 1, steps)]).toBe("X");
  },
);
