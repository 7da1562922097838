import fc from "fast-check";
import { expect, test } from "vitest";
import { tokensDelta } from "../../server/src/lsp/tokens-delta.js";
import { property } from "../support/property.js";

const tokens = fc
  .array(fc.tuple(fc.nat(2), fc.nat(3), fc.nat(2), fc.nat(2), fc.nat(1)), { maxLength: 12 })
  .map((all) => all.flat());

property(
  "the edits of a delta make the new tokens of the old",
  fc.tuple(tokens, tokens),
  500,
  ([before, after]) => {
    const made = [...before];
    for (const { start, deleteCount, data = [] } of tokensDelta(before, after))
      made.splice(start, deleteCount, ...data);
    expect(made).toEqual(after);
  },
);

test("the same tokens need no edit, and one token that changes needs five numbers", () => {
  const before = [0, 0, 3, 1, 0, 1, 0, 3, 1, 0, 1, 0, 3, 1, 0];
  expect(tokensDelta(before, [...before])).toEqual([]);
  const after = [...before];
  after[7] = 4;
  expect(tokensDelta(before, after)).toEqual([{ start: 5, deleteCount: 5, data: [1, 0, 4, 1, 0] }]);
});
