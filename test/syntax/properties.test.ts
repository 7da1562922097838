import fc from "fast-check";
import { expect, test } from "vitest";
import { parse } from "../../server/src/syntax/parse.js";
import { print } from "../../server/src/syntax/print.js";
import type { Slot, Tree } from "../../server/src/syntax/tree.js";
import { applyEdits } from "../../server/src/text/edits.js";
import type { Span } from "../../server/src/text/span.js";
import { anyLine, anyText } from "../support/lines-arbitrary.js";
import { assertProperty } from "../support/property.js";

const anything = fc.oneof(
  anyText,
  fc.string({ unit: "binary", maxLength: 200 }),
  fc.string({ unit: "grapheme", maxLength: 60 }),
  fc
    .array(fc.integer({ min: 0, max: 0xffff }), { maxLength: 60 })
    .map((units) => String.fromCharCode(...units)),
);

/** Also holds where each line's text and the texts' sum are checked. */
function expectWhole(tree: Tree, text: string): void {
  expect(print(tree)).toBe(text);
  expect(tree.text).toBe(text);
  expect(tree.starts).toHaveLength(tree.lines.length);
  let at = 0;
  tree.lines.forEach((line, i) => {
    expect(tree.starts[i]).toBe(at);
    at += line.text.length;
    let inside = 0;
    for (const { span } of line.tokens) {
      expect(span.start).toBe(inside);
      expect(span.end).toBeGreaterThan(span.start);
      inside = span.end;
    }
    expect(inside).toBe(line.text.length);
  });
  expect(at).toBe(text.length);
}

test("the tree of any text prints to that text, and its tokens lie end to end", () => {
  assertProperty(
    fc.property(anything, (text) => expectWhole(parse(text), text)),
    1500,
  );
});

function expectInside(inner: Span, outer: Span): void {
  expect(inner.start).toBeGreaterThanOrEqual(outer.start);
  expect(inner.end).toBeLessThanOrEqual(outer.end);
  expect(inner.start).toBeLessThanOrEqual(inner.end);
}

function expectOrdered(slots: readonly Slot[], outer: Span): void {
  let at = outer.start;
  for (const slot of slots) {
    expectInside(slot.span, { start: at, end: outer.end });
    at = slot.span.end;
    if (slot.kind === "group") expectOrdered(slot.slots, slot.span);
  }
}

test("every slot lies inside its bar, after the one before, and every problem inside its line", () => {
  assertProperty(
    fc.property(anyLine, (text) => {
      for (const { text: own, statement, problems } of parse(text).lines) {
        const whole = { start: 0, end: own.length };
        for (const { span, fixes, row } of problems) {
          expectInside(span, whole);
          for (const { edits } of fixes) for (const edit of edits) expectInside(edit.span, whole);
          expect(row).toBe(statement.kind === "row" ? statement.row : undefined);
        }
        if (statement.kind !== "row") continue;
        expectOrdered(statement.pickup, whole);
        for (const bar of statement.bars) {
          expectInside(bar.span, whole);
          expectOrdered(bar.slots, bar.span);
        }
      }
    }),
    1500,
  );
});

test("a slot that can't be read has exactly one problem at its place, and one that can has no error", () => {
  assertProperty(
    fc.property(anyLine, (text) => {
      for (const { statement, problems } of parse(text).lines) {
        if (statement.kind !== "row") continue;
        const errors = problems.filter(({ severity }) => severity === "error");
        const visit = (slot: Slot): void => {
          if (slot.kind === "group") {
            slot.slots.forEach(visit);
            return;
          }
          const here = errors.filter(
            ({ span }) => span.start >= slot.span.start && span.end <= slot.span.end,
          );
          if (slot.content.kind === "unread") expect(here).toHaveLength(1);
          else expect(here).toHaveLength(0);
        };
        statement.pickup.forEach(visit);
        for (const bar of statement.bars) bar.slots.forEach(visit);
      }
    }),
    1500,
  );
});

const ofSlots = new Set(["unknown-chord", "unknown-tone", "run-together", "sign-order"]);

test("each fix of a slot takes its problem away and adds no error", () => {
  let tried = 0;
  assertProperty(
    fc.property(anyLine, (text) => {
      for (const line of parse(text).lines) {
        const errors = line.problems.filter(({ severity }) => severity === "error").length;
        for (const { code, span, fixes } of line.problems) {
          if (!ofSlots.has(code)) continue;
          for (const { edits } of fixes) {
            tried++;
            const after = parse(applyEdits(line.text, edits)).lines[0];
            const left = after?.problems ?? [];
            const wrote = edits[0]?.text;
            const same = left.filter(
              (it) => it.code === code && it.facts.text === wrote && it.span.start === span.start,
            );
            expect(same).toHaveLength(0);
            expect(left.filter(({ severity }) => severity === "error").length).toBeLessThanOrEqual(errors);
          }
        }
      }
    }),
    3000,
  );
  expect(tried).toBeGreaterThan(500);
});
