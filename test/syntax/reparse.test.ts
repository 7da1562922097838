import fc from "fast-check";
import { expect, test } from "vitest";
import { parse, reparse } from "../../server/src/syntax/parse.js";
import { print } from "../../server/src/syntax/print.js";
import type { Tree } from "../../server/src/syntax/tree.js";
import { anyLine, anyText } from "../support/lines-arbitrary.js";
import { assertProperty } from "../support/property.js";

const plain = (tree: Tree) => ({
  text: tree.text,
  starts: tree.starts,
  lines: tree.lines.map(({ text, tokens, statement, problems }) => ({ text, tokens, statement, problems })),
});

const edit = fc.record({
  at: fc.nat(1000),
  gone: fc.oneof(fc.constantFrom(0, 0, 1, 1, 2), fc.nat(80)),
  put: fc.oneof(
    fc.constantFrom("", "", "\r", "\n", "\r\n", " ", "|", "(", ")", "b", "5", ";"),
    anyLine,
    anyText,
  ),
});

test("after any edits the tree is the one that the text gives afresh", () => {
  assertProperty(
    fc.property(anyText, fc.array(edit, { minLength: 1, maxLength: 12 }), (start, edits) => {
      let text = start;
      let tree = parse(text);
      for (const { at, gone, put } of edits) {
        const from = Math.floor((at / 1000) * text.length);
        text = text.slice(0, from) + put + text.slice(from + gone);
        // Lines that were put together from another tree's, as a section's are, know as much.
        const { text: before, lines, starts } = tree;
        const together = reparse({ text: before, lines, starts }, text);
        tree = reparse(tree, text);
        expect(plain(tree)).toEqual(plain(parse(text)));
        expect(plain(together)).toEqual(plain(tree));
      }
      expect(print(tree)).toBe(text);
    }),
    200,
  );
});

test("a text of another kind, or of none, is read afresh as well", () => {
  for (const [before, after] of [
    ["", "key C"],
    ["key C", ""],
    ["a\r", "a\r\n"],
    ["a\r\nb", "a\rb"],
    ["\n", ""],
    ["x\n", "x\ny"],
    ["x\ny", "x\n"],
  ] as const) {
    expect(plain(reparse(parse(before), after))).toEqual(plain(parse(after)));
  }
});

const chart =
  "key C\n\nsection A\nchords | 1 | 4 |\nright | 3 | 5 |\n\nsection B\nchords | 1 | 4 |\nright | 3 | 5 |\n";

test("equal lines are one and the same line, also after an edit", () => {
  const tree = parse(chart);
  expect(tree.lines[3]).toBe(tree.lines[7]);
  expect(tree.lines[1]).toBe(tree.lines[5]);
  const edited = reparse(tree, chart.replace("right | 3 | 5 |", "right | 3 | 6 |"));
  expect(edited.lines[4]).not.toBe(tree.lines[4]);
  expect(edited.lines[3]).toBe(tree.lines[3]);
  expect(edited.lines[8]).toBe(tree.lines[8]);
  const back = reparse(edited, chart);
  expect(back.lines[4]).toBe(tree.lines[4]);
  const added = reparse(back, `${chart}chords | 1 | 4 |\n`);
  expect(added.lines.at(-1)).toBe(tree.lines[3]);
});

test("equal slots are one and the same reading", () => {
  const { statement } = parse("right | 3+5 r 3+5 |").lines[0] ?? {};
  if (statement?.kind !== "row") throw new Error("not a row");
  const [first, , third] = statement.bars[0]?.slots ?? [];
  if (first?.kind !== "leaf" || third?.kind !== "leaf") throw new Error("not leaves");
  expect(first.content).toBe(third.content);
});

test("the same text gives the same tree", () => {
  const tree = parse(chart);
  expect(reparse(tree, chart)).toBe(tree);
});

test("lines stay the same ones over thousands of edits, when what is no longer in use is dropped", () => {
  const chart =
    "key C\n\nsection A\nchords | 1 | ( 4 ( 5 1 ) ) |\nright 5 | ( 3 5 ) | 5 |\nwords | a | b |\n";
  let tree = parse(chart);
  const kept = tree.lines[3];
  for (let i = 0; i < 4000; i++) {
    tree = reparse(tree, chart.replace("key C", `title ${i} times ; ${i}\nright | ${i} |`));
  }
  expect(tree.lines.find(({ text }) => text.startsWith("chords"))).toBe(kept);
  expect(plain(tree)).toEqual(plain(parse(tree.text)));
  const back = reparse(tree, chart);
  expect(plain(back)).toEqual(plain(parse(chart)));
});
