import type { NoChordMark, Section, SlotEvent } from "../chart/model.js";
import type { Fix } from "../problems/problem.js";
import type { Edit } from "../text/edits.js";
import { compare, plus } from "../theory/fraction.js";
import type { SectionCheck } from "./check.js";
import { chordless } from "./chordless.js";
import { trialOf } from "./trial.js";

/** Numbers that count from a chord where none sounds: one problem for each stretch without chords. */
export const noChord: SectionCheck<"no-chord"> = {
  code: "no-chord",
  run({ section, played }, report) {
    const trial = trialOf(section, played);
    for (const stretch of chordless(section)) {
      const [first, ...later] = stretch as [NoChordMark, ...NoChordMark[]];
      const { row, span, text: tone, pushed } = first;
      const related = later.map((mark) => ({
        span: mark.span,
        message: `“${mark.text}” has no chord either.`,
      }));
      const fixed = pushed ? unpushed(section, stretch) : countedFromKey(section, stretch);
      const fixes = fixed !== undefined && trial(fixed.edits) === "fewer" ? [fixed] : [];
      report(span, { tone, pushed }, { row, related, fixes });
    }
  },
};

/** `k` before each number. A 0 means the bass of a chord, and a slip (`4~5`) has its sign elsewhere. */
function countedFromKey({ source: { text } }: Section, marks: readonly NoChordMark[]): Fix | undefined {
  const isSlip = ({ span }: NoChordMark): boolean => text[span.end] === "~" || text[span.start - 1] === "~";
  if (marks.some((mark) => mark.text === "0" || isSlip(mark))) return undefined;
  const edits = marks.map(({ span: { start } }): Edit => {
    const sign = text[start - 1] === "c" ? start - 1 : start;
    return { span: { start: sign, end: start }, text: "k" };
  });
  const write = marks.length === 1 ? `k${marks[0]?.text}` : "k before each number";
  return { title: `Count from the key: write ${write}`, edits, silent: false };
}

/** Without the `!`, where a chord sounds that the numbers can count from. */
function unpushed(section: Section, marks: readonly NoChordMark[]): Fix | undefined {
  const signs = new Set<number>();
  for (const mark of marks) {
    const slot = slotOf(section, mark);
    if (slot === undefined || !soundsAt(section, slot)) return undefined;
    signs.add(section.source.text.indexOf("!", slot.span.start));
  }
  const edits = [...signs].map((at): Edit => ({ span: { start: at, end: at + 1 }, text: "" }));
  return { title: "Take the ! away", edits, silent: false };
}

const slotOf = ({ rows }: Section, { row, span }: NoChordMark): SlotEvent | undefined =>
  rows[row].slots.find(({ span: { start, end } }) => start <= span.start && span.end <= end);

const soundsAt = ({ chords }: Section, { at }: SlotEvent): boolean =>
  chords.some((chord) => compare(chord.at, at) <= 0 && compare(plus(chord.at, chord.length), at) > 0);
