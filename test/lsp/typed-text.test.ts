import fc from "fast-check";
import { expect, test } from "vitest";
import { TextDocument } from "vscode-languageserver-textdocument";
import { typedText } from "../../server/src/lsp/typed-text.js";
import { property } from "../support/property.js";

const piece = fc.constantFrom("", "a", "bc", " ", "\n", "\r", "\r\n", "x\ny", "\n\n", "🎵", "\r\r\n");
const text = fc.array(piece, { maxLength: 12 }).map((all) => all.join(""));
const place = fc.record({ line: fc.nat(6), character: fc.nat(5) });

/** Whether a place of the text stands between CR and LF, where the protocol has no position. */
const splits = (it: string, at: number): boolean => it[at - 1] === "\r" && it[at] === "\n";

property(
  "after any changes the places are those of vscode-languageserver-textdocument, and the last change is where it stands",
  fc.tuple(text, fc.array(fc.record({ a: place, b: place, text: piece }), { maxLength: 20 })),
  2000,
  ([start, changes]) => {
    const typed = typedText(start);
    let before = start;
    for (const { a, b, text: put } of changes) {
      const [first, last] = [a, b].sort((x, y) => x.line - y.line || x.character - y.character) as [
        typeof a,
        typeof b,
      ];
      // Made anew each time: its own updates lose count where a CR and a LF meet.
      const other = TextDocument.create("x:/a", "plagal", 1, before);
      const [from, to] = [other.offsetAt(first), other.offsetAt(last)];
      if (splits(before, from) || splits(before, to)) continue;
      before = before.slice(0, from) + put + before.slice(to);
      typed.change(a, b, put);
      expect(typed.lastChange()).toEqual({ start: from, end: from + put.length });
      expect(typed.whole()).toBe(before);
    }
  },
);

test("a whole text in place of another leaves what differs as the last change", () => {
  const typed = typedText("one\ntwo\n");
  expect(typed.lastChange()).toBe(undefined);
  typed.change({ line: 0, character: 0 }, { line: 0, character: 0 }, "x");
  typed.replace("xone\ntwice\n");
  expect([typed.whole(), typed.lastChange()]).toEqual(["xone\ntwice\n", { start: 7, end: 10 }]);
});

test("several changes are put together once, and the last of them is told", () => {
  const typed = typedText("a\nb\nc\n");
  typed.change({ line: 2, character: 1 }, { line: 2, character: 1 }, "!");
  typed.change({ line: 0, character: 1 }, { line: 1, character: 0 }, "");
  expect([typed.whole(), typed.lastChange()]).toEqual(["ab\nc!\n", { start: 1, end: 1 }]);
});
