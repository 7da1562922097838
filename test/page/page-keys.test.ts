import fc from "fast-check";
import { expect, test } from "vitest";
import { differences, type Json, withDifferences } from "../../server/src/exports/page-keys.js";
import { property } from "../support/property.js";

/** Two values of one shape, their numbers made apart. */
const twins: fc.Arbitrary<readonly [Json, Json]> = fc.letrec<{ readonly any: readonly [Json, Json] }>(
  (tie) => ({
    any: fc.oneof(
      { maxDepth: 4, withCrossShrink: true },
      fc.tuple(fc.integer({ min: -9, max: 9 }), fc.integer({ min: -9, max: 9 })),
      fc.oneof(fc.string(), fc.boolean(), fc.constant(null)).map((it) => [it, it] as const),
      fc.array(tie("any")).map((all) => [all.map(([a]) => a), all.map(([, b]) => b)] as const),
      fc
        .dictionary(fc.stringMatching(/^[a-zA-Z]{1,6}$/), tie("any"))
        .map(
          (all) =>
            [
              Object.fromEntries(Object.entries(all).map(([name, [a]]) => [name, a])),
              Object.fromEntries(Object.entries(all).map(([name, [, b]]) => [name, b])),
            ] as const,
        ),
    ),
  }),
).any;

property("a value and its differences give the other value back", twins, 500, ([from, to]) => {
  const by = differences(from, to);
  expect(by).toBeDefined();
  expect(withDifferences(from, by ?? {})).toEqual(to);
});

test("a list that moves as one is one run", () => {
  expect(differences({ notes: [60, 64, 67], d: [4] }, { notes: [62, 66, 69], d: [4] })).toEqual({
    ".notes": [3, 2],
  });
});

test.each<[Json, Json]>([
  ["a", "b"],
  [1, "1"],
  [[1], [1, 2]],
  [{ a: 1 }, { b: 1 }],
  [{ a: 1 }, { a: 1, b: 1 }],
  [null, 0],
  [[], {}],
])("%j and %j differ in more than numbers", (from, to) => {
  expect(differences(from, to)).toBeUndefined();
});
