import { editedSection } from "../chart/edited-section.js";
import type { Note, Section } from "../chart/model.js";
import { isOnKeyboard } from "../keyboard/keyboard-range.js";
import { areApart, type Edit } from "../text/edits.js";
import type { JudgedSection, PlayedSection } from "./check.js";
import { chordless } from "./chordless.js";
import { handsThatCollide, handsThatInterlock, placesOfMeeting } from "./hands-that-meet.js";
import { marksOf } from "./marks.js";
import { placesTold, unheldGrips } from "./unheld-grips.js";

/**
 * So many characters are read in trials for one check of a section, and none in a section longer than this: a trial
 * costs a reading of the section, so an ordinary one may try a hundred fixes and the longest three.
 */
const mostRead = 60_000;
const longestTried = 20_000;

/**
 * Tries edits on a section: whether its own text has fewer errors afterwards, as many, or more; notes that lie off the
 * keyboard in a key in which it is played are counted apart, so that none of them comes in another error's place.
 */
export type Trial = (edits: readonly Edit[]) => "fewer" | "same" | "more" | "untried";

export function trialOf(
  section: Section,
  played: readonly { readonly halfSteps: number }[] = [{ halfSteps: 0 }],
): Trial {
  const attempt = attempts(section);
  const moves = played.map(({ halfSteps }) => halfSteps);
  const count = (it: Section): readonly [errors: number, off: number] => [
    errorsIn(it),
    notesOff(it, moves).length,
  ];
  let before: readonly [errors: number, off: number] | undefined;
  return (edits) => {
    const tried = attempt(edits);
    if (tried === "untried") return tried;
    if (tried === undefined) return "more";
    before ??= count(section);
    const [errors, off] = count(tried);
    if (errors > before[0] || off > before[1]) return "more";
    return errors < before[0] || off < before[1] ? "fewer" : "same";
  };
}

/**
 * Whether edits leave fewer of what a check tells of, `told`, in the whole section, no error more (those of the hands
 * among them), no tone without what it holds, and no more of anything that `kept` counts; `isMeant` may ask for more.
 * What can't be tried doesn't.
 */
export function mendingTrial(
  judged: JudgedSection,
  told: (section: Section) => number,
  kept: (section: Section) => readonly number[] = () => [],
): (edits: readonly Edit[], isMeant?: (tried: Section) => boolean) => boolean {
  const { section, played } = judged;
  const attempt = attempts(section);
  const moves = played.map(({ halfSteps }) => halfSteps);
  const state = (it: Section): readonly number[] => {
    const off = notesOff(it, moves);
    return [
      errorsIn(it),
      off.length,
      new Set(off.map(({ span }) => span.start)).size,
      marksOf(it, "nothing-to-hold").length,
      ...handErrors({ ...judged, section: it }),
      ...kept(it),
    ];
  };
  let before: { readonly told: number; readonly state: readonly number[] } | undefined;
  return (edits, isMeant) => {
    const tried = areApart(edits) ? attempt(edits) : undefined;
    if (tried === undefined || tried === "untried" || isMeant?.(tried) === false) return false;
    before ??= { told: told(section), state: state(section) };
    const was = before.state;
    return told(tried) < before.told && state(tried).every((count, i) => count <= (was[i] as number));
  };
}

/** Whether there is anything that the hands can't do. */
export const handsErr = (judged: PlayedSection): boolean => handErrors(judged).some((count) => count > 0);

/** Whether edits ask no more of the hands than they can do already. What can't be tried is taken to. */
export function handsTrial(judged: PlayedSection): (edits: readonly Edit[]) => boolean {
  const attempt = attempts(judged.section);
  let before: readonly number[] | undefined;
  return (edits) => {
    const tried = attempt(edits);
    if (tried === undefined || tried === "untried") return true;
    before ??= handErrors(judged);
    return handErrors({ ...judged, section: tried }).every((count, i) => count <= (before?.[i] ?? 0));
  };
}

/** Reads a section as it would be after edits, a few times; `undefined` where none would be left. */
function attempts(section: Section): (edits: readonly Edit[]) => Section | "untried" | undefined {
  const { length } = section.source.text;
  let read = 0;
  return (edits) => {
    read += length;
    return length > longestTried || read > mostRead ? "untried" : editedSection(section, edits);
  };
}

/** The errors in a section's own text, without the notes that no piano has. */
const errorsIn = (section: Section): number =>
  section.source.lines.reduce(
    (sum, { problems }) => sum + problems.filter(({ severity }) => severity === "error").length,
    0,
  ) +
  chordless(section).length +
  marksOf(section, "octave-sign").length +
  marksOf(section, "misplaced").length;

/** How often the hands can't do what a section asks, of each kind: sets of keys, and the texts that they are told of. */
function handErrors(judged: PlayedSection): readonly number[] {
  const { section } = judged;
  const grips = [unheldGrips(judged, "few"), unheldGrips(judged, "many")];
  const meeting = [handsThatCollide(section), handsThatInterlock(section)];
  return [
    ...[...grips, ...meeting].map(({ length }) => length),
    ...grips.map(placesTold),
    ...meeting.map(placesOfMeeting),
  ];
}

/** The notes that lie off the keyboard in one of the keys in which the section is played. */
const notesOff = ({ rows }: Section, moves: readonly number[]): readonly Note[] =>
  Object.values(rows).flatMap(({ notes }) =>
    notes.filter(({ pitch }) => moves.some((by) => !isOnKeyboard(pitch.midi + by))),
  );
