import { expect, test } from "vitest";
import { grip } from "../../server/src/keyboard/grip.js";

// Worked values of the model itself: two other programs written from its description give the same totals.
const totals: readonly (readonly [reach: number, holding: readonly number[]])[] = [
  [8, [150, 826, 2_621, 4_894, 2_220]],
  [9, [170, 1_081, 3_821, 7_605, 3_731]],
  [10, [190, 1_304, 4_810, 9_791, 4_966]],
];

/** All sets of so many keys with the given lowest one and no other more than 17 half steps above it. */
function* sets(lowest: number, size: number): Generator<readonly number[]> {
  function* grow(keys: readonly number[]): Generator<readonly number[]> {
    if (keys.length === size) {
      yield keys;
      return;
    }
    for (let key = (keys[keys.length - 1] as number) + 1; key <= lowest + 17; key++)
      yield* grow([...keys, key]);
  }
  yield* grow([lowest]);
}

const cases = totals.flatMap(([reach, holding]) => holding.map((count, i) => [reach, i + 2, count] as const));

test.each(cases)("a right hand of reach %i holds, of sets of %i keys, %i", (reach, size, count) => {
  let held = 0;
  for (let lowest = 60; lowest < 72; lowest++)
    for (const keys of sets(lowest, size)) if (grip(keys, "right", reach).holds) held++;
  expect(held).toBe(count);
});
