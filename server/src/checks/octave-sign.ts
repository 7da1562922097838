import type { OctaveSignMark } from "../chart/model.js";
import { movedExactly, octavesOf } from "../edits/octave-in-text.js";
import type { Fix } from "../problems/problem.js";
import { sliceOf } from "../text/span.js";
import type { SectionCheck } from "./check.js";
import { marksOf } from "./marks.js";

/** A `<` or `>` that changes nothing. */
export const octaveSign: SectionCheck<"octave-sign"> = {
  code: "octave-sign",
  run({ section }, report) {
    for (const mark of marksOf(section, "octave-sign")) {
      const { span, toneSpan, why, row } = mark;
      const written = sliceOf(section.source.text, toneSpan);
      const signs = why === "group" ? "" : written.replace(/[^<>]/g, "");
      const tone = why === "group" ? written : written.replace(/[<>]/g, "");
      const isTop = section.source.text[toneSpan.end] !== "+";
      const fixes = why === "group" ? [] : fixesOf(mark, signs, tone, isTop);
      report(span, { tone, signs, why }, { row, fixes });
    }
  },
};

/** The tones above it in its stack would move along with another octave, so that is offered of the top one alone. */
function fixesOf({ toneSpan: span }: OctaveSignMark, signs: string, tone: string, isTop: boolean): Fix[] {
  const write = (text: string, silent: boolean): Fix => ({
    title: `Write ${text}`,
    edits: [{ span, text }],
    silent,
  });
  const moved = movedExactly(tone, octavesOf(signs));
  return moved === undefined || moved === tone || !isTop
    ? [write(tone, true)]
    : [write(tone, true), write(moved, false)];
}
