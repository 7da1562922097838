import fc from "fast-check";
import { expect } from "vitest";
import { type Document, openDocument } from "../../server/src/document/document.js";
import type { Problem } from "../../server/src/problems/problem.js";
import { applyEdits, type Edit } from "../../server/src/text/edits.js";
import { anyChart, hostileText, usedFiles } from "../support/generate-chart.js";
import { property } from "../support/property.js";
import { soundOf } from "../support/sounding.js";

const open = (text: string, previous?: Document): Document =>
  openDocument("chart.plagal", text, usedFiles, undefined, previous);

/** Where a place stands after the edits; one inside an edit goes to its end. */
function placeAfter(offset: number, edits: readonly Edit[]): number {
  let at = offset;
  for (const { span, text } of edits) {
    if (span.end <= offset) at += text.length - (span.end - span.start);
  }
  return at;
}

/** What the parser tells. */
const unreadable: ReadonlySet<string> = new Set(["syntax", "unknown-word", "unknown-chord", "unknown-tone"]);

/** What is left out of the sound is not judged any further, so mending it shows what it hid. */
const hiding: ReadonlySet<string> = new Set([...unreadable, "no-chord"]);

/**
 * Errors that a fix may not add to. A line whose first word is mended is read for the first time; tones that come
 * into the sound are; where some lie off the keyboard already, more may move with them; and where the bar's time is
 * mended, other chords stand over the hands, and other keys meet.
 */
function errorsOf(problems: readonly Problem[], fixed: string, before: readonly Problem[]): number {
  if (fixed === "unknown-word") return 0;
  const isOff = before.some(({ code }) => code === "off-keyboard");
  return problems.filter(
    ({ severity, code }) =>
      severity === "error" &&
      (!hiding.has(fixed) || unreadable.has(code)) &&
      (!isOff || code !== "off-keyboard" || ofRepeated.has(fixed)) &&
      !(retiming.has(fixed) && ofHands.has(code)),
  ).length;
}

/** What is told of a text that may be repeated: mended at one place, it must not go wrong at another. */
const ofRepeated: ReadonlySet<string> = new Set(["outside-chord", "off-keyboard"]);

const retiming: ReadonlySet<string> = new Set(["uneven-slots", "uneven-rows", "missing-beat"]);
const ofHands: ReadonlySet<string> = new Set(["hand-span", "too-many-notes", "hands-collide", "hands-cross"]);

let tried = 0;
const triedOfHands = new Set<string>();

property("a fix removes its problem and adds no error", fc.oneof(anyChart(), hostileText), 120, (text) => {
  const document = open(text);
  const { problems } = document;
  const seen = new Map<string, number>();
  for (const { code, message, span, facts, fixes } of problems) {
    // A few of each kind in each chart are enough.
    const count = (seen.get(code) ?? 0) + 1;
    seen.set(code, count);
    if (count > 2) continue;
    for (const { title, edits, silent } of fixes) {
      tried++;
      const after = open(applyEdits(text, edits), document);
      const at = placeAfter(span.start, edits);
      const same = after.problems.filter(
        (it) =>
          it.code === code &&
          it.span.start === at &&
          (it.message === message || JSON.stringify(it.facts) === JSON.stringify(facts)),
      );
      if (ofHands.has(code)) {
        triedOfHands.add(code);
        const there = after.problems.filter((it) => it.code === code && it.span.start === at);
        expect(there, `${code} is left at its place by “${title}”`).toEqual([]);
      }
      const said = `${code} at ${span.start} “${message}” by “${title}”`;
      // Of three equal lines two are told of alike: where one is taken away the other stands in its place.
      const alike = (all: readonly Problem[]): number =>
        all.filter((it) => it.code === code && it.message === message).length;
      if (same.length > 0) expect(alike(after.problems), said).toBeLessThan(alike(problems));
      const errors = errorsOf(after.problems, code, problems) - errorsOf(problems, code, problems);
      const known = new Set(problems.map((it) => it.message));
      const added = after.problems.filter((it) => it.severity === "error" && !known.has(it.message));
      const shown = added.map((it) => `${it.code}: ${it.message}`).join("\n");
      expect(errors, `${said} adds ${shown}`).toBeLessThanOrEqual(0);
      if (ofRepeated.has(code)) {
        const countOf = (all: readonly Problem[]): number => all.filter((it) => it.code === code).length;
        expect(countOf(after.problems), `${said} brings others of its kind`).toBeLessThan(countOf(problems));
      }
      if (silent) expect(soundOf(after.chart), said).toBe(soundOf(document.chart));
    }
  }
});

property("there were fixes to try", fc.constant(undefined), 1, () => {
  expect(tried).toBeGreaterThan(100);
  expect(triedOfHands).toContain("hand-span");
  expect(triedOfHands).toContain("hands-cross");
});
