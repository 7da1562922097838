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
    for (const mark of marksOf(section, "octave-sign")) {
      const { span, toneSpan, why, row } = mark;
      const written = sliceOf(section.source.text, toneSpan);
      const signs = why === "group" ? "" : written.replace(/[^<>]/g, "");
      const tone = why === "group" ? written : written.replace(/[<>]/g, "");
      const fixes = why === "group" ? [] : fixesOf(mark, signs, tone);
      report(span, { tone, signs, why }, { row, fixes });
    }
  },
};

function fixesOf({ toneSpan: span }: OctaveSignMark, signs: string, tone: string): Fix[] {
  const write = (text: string, silent: boolean): Fix => ({
    title: `Write ${text}`,
    edits: [{ span, text }],
    silent,
  });
  const moved = movedExactly(tone, octavesOf(signs));
  return moved === undefined || moved === tone
    ? [write(tone, true)]
    : [write(tone, true), write(moved, false)];
}
