import type { OctaveSignMark } from "../chart/model.js";
import type { Fix } from "../problems/problem.js";
import { sliceOf } from "../text/span.js";
import type { SectionCheck } from "./check.js";
import { marksOf } from "./marks.js";
import { movedExactly, octavesOf } from "./octave-in-text.js";

/** A `<` or `>` that changes nothing. */
export const octaveSign: SectionCheck<"octave-sign"> = {
  code: "octave-sign",
  run({ section }, report) {
    const { text } = section.source;
    for (const mark of marksOf(section, "octave-sign")) {
      const { span, toneSpan, why, row } = mark;
      const signs = why === "group" ? "" : sliceOf(text, span);
      const tone =
        why === "group"
          ? sliceOf(text, toneSpan)
          : text.slice(toneSpan.start, span.start) + text.slice(span.end, toneSpan.end);
      report(span, { tone, signs, why }, { row, fixes: why === "group" ? [] : fixesOf(mark, signs, tone) });
    }
  },
};

function fixesOf({ span, toneSpan }: OctaveSignMark, signs: string, tone: string): Fix[] {
  const drop: Fix = { title: `Write ${tone}`, edits: [{ span, text: "" }], silent: true };
  const moved = movedExactly(tone, octavesOf(signs));
  if (moved === undefined || moved === tone) return [drop];
  return [drop, { title: `Write ${moved}`, edits: [{ span: toneSpan, text: moved }], silent: false }];
}
