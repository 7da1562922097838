import { expect, test } from "vitest";
import { columnsOf, padTo } from "../../server/src/text/columns.js";

test.each([
  ["", 0],
  ["3+5+1", 5],
  ["E♭", 2],
  ["♭7♯", 3],
  ["é", 1],
  ["e\u0301", 1],
  ["ñandú", 5],
  ["日本", 4],
  ["한글", 4],
  ["ｶ", 1],
  ["Ａ", 2],
  ["😀", 2],
  ["👍🏽", 2],
  ["👩‍👧", 2],
  ["❤️", 2],
  ["❤", 1],
  ["🇫🇮", 2],
  ["a\u200bb", 2],
  ["\t", 1],
])("%j takes %i columns", (text, columns) => {
  expect(columnsOf(text)).toBe(columns);
});

test("padding counts columns", () => {
  expect(padTo("😀", 4)).toBe("😀  ");
  expect(padTo("Har-bour", 4)).toBe("Har-bour");
});
