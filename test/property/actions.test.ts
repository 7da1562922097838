import fc from "fast-check";
import { expect } from "vitest";
import { type Document, openDocument, withText } from "../../server/src/document/document.js";
import { hasSilentFixes } from "../../server/src/document/silent-fixes.js";
import type { Action } from "../../server/src/features/action.js";
import { actions } from "../../server/src/features/actions.js";
import { barsFromChords } from "../../server/src/features/bars-from-chords.js";
import { fixAll } from "../../server/src/features/fix-all.js";
import { fromLetters } from "../../server/src/features/from-letters.js";
import { endPractice, practise } from "../../server/src/features/practise.js";
import { isUnread } from "../../server/src/problems/unread.js";
import { applyEdits, areApart, type Edit } from "../../server/src/text/edits.js";
import type { Span } from "../../server/src/text/span.js";
import { anyChart, hostileText, usedFiles } from "../support/generate-chart.js";
import { property } from "../support/property.js";
import { soundOf } from "../support/sounding.js";

const open = (text: string): Document => openDocument("chart.plagal", text, usedFiles);

function applied(document: Document, edits: readonly Edit[]): Document {
  expect(areApart(edits)).toBe(true);
  for (const { span } of edits) {
    expect(span.start).toBeGreaterThanOrEqual(0);
    expect(span.end).toBeLessThanOrEqual(document.text.length);
  }
  return withText(document, applyEdits(document.text, edits));
}

const unreadIn = ({ problems }: Document): number => problems.filter(isUnread).length;
/** Of the lines alone: a line that belongs in the head is one too many as soon as a section stands above it. */
const unreadLinesIn = ({ tree }: Document): number =>
  tree.lines.flatMap(({ problems }) => problems.filter(isUnread)).length;
const errorsIn = ({ problems }: Document): readonly string[] =>
  problems
    .filter(({ severity, code }) => severity === "error" && code !== "syntax")
    .map(({ message }) => message);

/** A selection, its ends as parts of ten thousand of the text; empty where they are the same. */
const ends = fc.tuple(fc.nat({ max: 10_000 }), fc.oneof(fc.constant(0), fc.nat({ max: 4000 })));
const spanIn = (text: string, [start, length]: readonly [number, number]): Span => {
  const at = Math.floor((text.length * start) / 10_000);
  return { start: at, end: Math.min(text.length, at + Math.floor((text.length * length) / 10_000)) };
};

const offered = new Map<Action["kind"], number>();

property(
  "whatever is offered anywhere can be done or says why not",
  fc.tuple(fc.oneof(anyChart(), hostileText), ends, fc.boolean()),
  60,
  ([text, at, moves]) => {
    const document = open(text);
    const span = spanIn(text, at);
    const found = actions(document, span, moves ? { only: ["refactor.move"] } : {});
    // A few of each kind are enough.
    for (const action of found.filter((_, i) => !moves || i % 5 === 0)) {
      offered.set(action.kind, (offered.get(action.kind) ?? 0) + 1);
      const change = action.change();
      if ("refused" in change) {
        expect(change.refused).toMatch(/[.)]$/);
        continue;
      }
      const after = applied(document, change.edits);
      expect(unreadIn(after), action.title).toBeLessThanOrEqual(
        action.kind === "quickfix" ? Number.POSITIVE_INFINITY : unreadIn(document),
      );
    }
  },
);

property("every kind of action was tried", fc.constant(undefined), 1, () => {
  expect([...offered.keys()].sort()).toEqual([
    "quickfix",
    "refactor.move",
    "refactor.rewrite",
    "refactor.rewrite.voice",
    "source.fixAll.plagal",
  ]);
});

property(
  "fixing all changes no sound, leaves nothing to fix, and does nothing more the second time",
  fc.oneof(anyChart(), hostileText),
  60,
  (text) => {
    const document = open(text);
    const after = applied(document, fixAll(document));
    expect(soundOf(after.chart)).toBe(soundOf(document.chart));
    expect(fixAll(after)).toEqual([]);
    if (fixAll(document).length === 0) expect(after.text).toBe(text);
    else expect(hasSilentFixes(document)).toBe(true);
  },
);

property(
  "practice brings no new problem of an error, and its end brings the text back",
  fc.tuple(
    anyChart(),
    fc.constantFrom("fourths" as const, "half-steps" as const, "shuffled" as const),
    fc.nat(),
  ),
  40,
  ([text, order, seed]) => {
    const document = open(text);
    const change = practise(document, order, seed);
    if ("refused" in change) return;
    const after = applied(document, change.edits);
    expect(unreadIn(after)).toBe(unreadIn(document));
    const again = practise(after, order, seed);
    expect("edits" in again && applied(after, again.edits).text).toBe(after.text);
    const end = endPractice(after);
    expect("edits" in end && applied(after, end.edits).text).toBe(text);
  },
);

const chord = fc.constantFrom(..."C G/B Am F Dm7 G7sus Bb E° F#m7b5 C/E N.C. 1 6m 5:7".split(" "));
const words = fc.constantFrom(
  ..."Har-bour light and slow the river; runs [home] 1. 2) é 😀 a | b ; by time right Chorus: :| % r".split(
    " ",
  ),
);
const line = fc.oneof(
  fc
    .array(fc.tuple(chord, fc.nat({ max: 9 })), { minLength: 1, maxLength: 6 })
    .map((items) => items.map(([text, gap]) => " ".repeat(gap) + text).join(" ")),
  fc.array(words, { maxLength: 8 }).map((items) => items.join(" ")),
  fc.constantFrom("", "[Verse]", "Chorus:", "Bridge", "; a word", "Key: G", "key C", "section A", "\t"),
);
const sheet = fc
  .tuple(fc.array(line, { maxLength: 14 }), fc.constantFrom("\n", "\r\n"))
  .map(([lines, lineEnd]) => lines.join(lineEnd));

let made = 0;

property(
  "what is made of pasted letters can be read, and none of the words is lost",
  fc.tuple(sheet, ends),
  400,
  ([text, at]) => {
    const document = open(text);
    const lines = document.tree.lines.length;
    for (let i = 0; i < lines; i++) {
      const edit = barsFromChords(document, i);
      if (edit === undefined) continue;
      expect(unreadLinesIn(applied(document, [edit]))).toBeLessThan(unreadLinesIn(document));
    }
    const edits = fromLetters(document, spanIn(text, at));
    if (edits === undefined) return;
    made++;
    const after = applied(document, edits);
    expect(unreadLinesIn(after), after.text).toBeLessThan(unreadLinesIn(document));
    expect(errorsIn(after).length, errorsIn(after).join("\n")).toBeLessThanOrEqual(errorsIn(document).length);
    const letters = (it: string): string => it.replace(/[^\p{L}]/gu, "");
    for (const word of ["Har", "bour", "light", "slow", "river", "runs"]) {
      const count = (it: string): number => letters(it).split(word).length;
      expect(count(after.text), `${word}\n${after.text}`).toBeGreaterThanOrEqual(count(text));
    }
  },
);

property("there were letters to read", fc.constant(undefined), 1, () => {
  expect(made).toBeGreaterThan(50);
});
