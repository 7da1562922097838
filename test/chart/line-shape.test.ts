import { expect, test } from "vitest";
import { lineShape } from "../../server/src/chart/line-shape.js";
import { parse } from "../../server/src/syntax/parse.js";
import type { RowLine } from "../../server/src/syntax/tree.js";

const shapeOf = (text: string) => lineShape(parse(text).lines[0]?.statement as RowLine);

test.each([
  [
    "one slot in each bar",
    "right | 1 | 3 |",
    { isPlain: true, isWrittenOut: true, hasRoll: false, finest: 1 },
  ],
  ["slots within a group", "right | 1 (3 5 1) |", { finest: 6 }],
  ["the finest of its bars", "right | 1 3 | 1 3 5 1 | 1 |", { finest: 4 }],
  ["an empty bar", "right | | 1 |", { finest: 1 }],
  ["a bar that another repeats", "right | 1 | % |", { isWrittenOut: false }],
  ["slots before the first bar line", "right 5 | 1 |", { isWrittenOut: false }],
  ["a roll, in a group too", "right | 1 (3 ~3+5) |", { hasRoll: true }],
  ["the start of a repeat", "right |: 1 | 3 |", { isPlain: false }],
  ["its end", "right | 1 | 3 :|", { isPlain: false }],
  ["an ending", "right | 1 | 1. 3 |", { isPlain: false }],
  ["a double bar line, which repeats nothing", "right | 1 || 3 ||", { isPlain: true }],
  ["words, which are no slots in time", "words | la la la la | la |", { isPlain: true, finest: 1 }],
])("of %s", (_, line, shape) => {
  expect(shapeOf(line)).toMatchObject(shape);
});

test("equal lines share theirs", () => {
  const [first, , third] = parse("right | 1 3 |\n\nright | 1 3 |\n").lines;
  expect(lineShape(third?.statement as RowLine)).toBe(lineShape(first?.statement as RowLine));
});
