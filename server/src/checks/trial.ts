import type { Section } from "../chart/model.js";
import { outline } from "../chart/outline.js";
import { resolveSection } from "../chart/section.js";
import { parse } from "../syntax/parse.js";
import { applyEdits, type Edit } from "../text/edits.js";
import { chordless } from "./chordless.js";
import { marksOf } from "./marks.js";
import { isOnKeyboard } from "./off-keyboard.js";

/** So many fixes are tried for one check of a section, and in no longer one than this; trying costs a reading. */
const mostTrials = 12;
const longestTried = 20_000;

/** Tries edits on a section: whether its own text has fewer errors afterwards, as many, or more. */
export type Trial = (edits: readonly Edit[]) => "fewer" | "same" | "more" | "untried";

export function trialOf(section: Section): Trial {
  const { text } = section.source;
  let trials = 0;
  let before: number | undefined;
  return (edits) => {
    if (text.length > longestTried || trials >= mostTrials) return "untried";
    trials++;
    before ??= errorsIn(section);
    const tried = outline(parse(applyEdits(text, edits))).sections[0];
    if (tried === undefined) return "more";
    const after = errorsIn(resolveSection(tried.source, section.context));
    return after < before ? "fewer" : after === before ? "same" : "more";
  };
}

const errorsIn = (section: Section): number =>
  section.source.lines.reduce(
    (sum, { problems }) => sum + problems.filter(({ severity }) => severity === "error").length,
    0,
  ) +
  chordless(section).length +
  marksOf(section, "octave-sign").length +
  marksOf(section, "misplaced").length +
  Object.values(section.rows).reduce(
    (sum, { notes }) => sum + notes.filter(({ pitch }) => !isOnKeyboard(pitch.midi)).length,
    0,
  );
