import fc from "fast-check";
import { expect } from "vitest";
import { type Document, openDocument } from "../../server/src/document/document.js";
import type { Problem } from "../../server/src/problems/problem.js";
import { applyEdits, type Edit } from "../../server/src/text/edits.js";
import { anyChart, hostileText, usedFiles } from "../support/generate-chart.js";
import { property } from "../support/property.js";
import { soundOf } from "../support/sounding.js";

const open = (text: string): Document => openDocument("chart.plagal", text, usedFiles);

/** Where a place stands after the edits; one inside an edit goes to its end. */
function placeAfter(offset: number, edits: readonly Edit[]): number {
  let at = offset;
  for (const { span, text } of edits) {
    if (span.end <= offset) at += text.length - (span.end - span.start);
  }
  return at;
}

const errorsOf = (problems: readonly Problem[]): number =>
  problems.filter(({ severity }) => severity === "error").length;

let tried = 0;

property("a fix removes its problem and adds no error", fc.oneof(anyChart(), hostileText), 120, (text) => {
  const { problems } = open(text);
  const seen = new Map<string, number>();
  for (const { code, message, span, severity, facts, fixes } of problems) {
    // A few of each kind in each chart are enough.
    const count = (seen.get(code) ?? 0) + 1;
    seen.set(code, count);
    if (count > 2) continue;
    for (const { title, edits, silent } of fixes) {
      tried++;
      const after = open(applyEdits(text, edits));
      const at = placeAfter(span.start, edits);
      const same = after.problems.filter(
        (it) =>
          it.code === code &&
          it.span.start === at &&
          (it.message === message || JSON.stringify(it.facts) === JSON.stringify(facts)),
      );
      const said = `${code} at ${span.start} “${message}” by “${title}”`;
      expect(
        same.map((it) => it.message),
        said,
      ).toEqual([]);
      const errors = errorsOf(after.problems) - errorsOf(problems) + (severity === "error" ? 1 : 0);
      expect(errors, `${said} adds ${after.problems.map((it) => it.message).join("\n")}`).toBeLessThanOrEqual(
        0,
      );
      if (silent) expect(soundOf(after.chart), said).toBe(soundOf(open(text).chart));
    }
  }
});

property("there were fixes to try", fc.constant(undefined), 1, () => {
  expect(tried).toBeGreaterThan(100);
});
