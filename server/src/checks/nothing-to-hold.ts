import type { Note, NothingToHoldMark } from "../chart/model.js";
import { movedExactly, octavesOf, signsFor } from "../edits/octave-in-text.js";
import { isOnKeyboard } from "../keyboard/keyboard-range.js";
import type { Fix } from "../problems/problem.js";
import { sliceOf } from "../text/span.js";
import { prettyPitch } from "../theory/pitch.js";
import type { JudgedSection, SectionCheck } from "./check.js";
import { marksOf } from "./marks.js";
import { handsTrial } from "./trial.js";

type Tone = NonNullable<NothingToHoldMark["tone"]>;

/** Something that goes on with what stood before, where nothing did. */
export const nothingToHold: SectionCheck<"nothing-to-hold"> = {
  code: "nothing-to-hold",
  run(judged, report) {
    const { section } = judged;
    const isHandy = handsTrial(judged);
    for (const mark of marksOf(section, "nothing-to-hold")) {
      const { span, sign, tone, row } = mark;
      const text = sign === "_" || sign === "bass" ? sliceOf(section.source.text, span) : "";
      const pitch = tone === undefined ? "" : prettyPitch(tone.pitch);
      const nearby = tone === undefined ? [] : octavesAway(tone);
      const sounding = nearby.map((octaves) => prettyPitch(moved(tone as Tone, octaves)));
      const fixes =
        tone === undefined
          ? startAnew(mark, section.source.text)
          : findOrStrike(
              mark,
              tone,
              nearby.filter((it) => isOnKeyboard(moved(tone, it).midi) && keepsStack(judged, mark, it)),
              text,
            ).filter(({ edits }) => isHandy(edits));
      report(span, { sign, text, pitch, sounding }, { row, fixes });
    }
  },
};

/** Whether the stack around a tone, which may move along with it, stays on the keyboard in every key of the form. */
function keepsStack(
  { section, played }: JudgedSection,
  { span }: NothingToHoldMark,
  octaves: number,
): boolean {
  const isOn = ({ pitch: { midi } }: Note, by: number): boolean =>
    played.every(({ halfSteps }) => isOnKeyboard(midi + halfSteps + by));
  return Object.values(section.rows).every(({ slots }) =>
    slots.every(
      (slot) =>
        slot.span.start > span.start ||
        slot.span.end < span.end ||
        slot.struck.every((note) => !isOn(note, 0) || isOn(note, 12 * octaves)),
    ),
  );
}

const moved = ({ pitch }: Tone, octaves: number): Tone["pitch"] => ({
  ...pitch,
  midi: pitch.midi + 12 * octaves,
});

/** The nearest first. */
const octavesAway = ({ nearby }: Tone): readonly number[] =>
  [...new Set(nearby)].sort((a, b) => Math.abs(a) - Math.abs(b) || a - b);

/** What sounds the same without anything before it. */
function startAnew({ span, sign }: NothingToHoldMark, section: string): readonly Fix[] {
  const word = sign === "-" ? "r" : sign === "/" ? "NC" : undefined;
  if (word === undefined) return [];
  // Of `//` the second half stays.
  const text = section[span.end] === "/" ? `${word} ` : word;
  return [{ title: `Write ${word}`, edits: [{ span, text }], silent: false }];
}

/** The tone in an octave where it does sound; or the same tone, struck. */
function findOrStrike(
  { span }: NothingToHoldMark,
  tone: Tone,
  nearby: readonly number[],
  text: string,
): readonly Fix[] {
  const write = (written: string): Fix => ({
    title: `Write ${written}`,
    edits: [{ span, text: written }],
    silent: false,
  });
  const found = nearby.flatMap((octaves) => {
    const written = inOctave(text, tone, octaves, span.start);
    return written === undefined ? [] : [write(written)];
  });
  return [...found, write(text.replace("_", ""))];
}

/** The text of a tone so many octaves away; `undefined` where no sign can say that. */
function inOctave(
  text: string,
  { signsAt, lowest }: Tone,
  octaves: number,
  textStart: number,
): string | undefined {
  const exact = movedExactly(text, octaves);
  if (exact !== undefined) return exact;
  const at = signsAt - textStart;
  const signs = /^[<>]*/.exec(text.slice(at))?.[0] ?? "";
  const before = octavesOf(signs);
  const sum = (lowest ? before : Math.max(0, before)) + octaves;
  if (sum < 0 && !lowest) return undefined;
  return text.slice(0, at) + signsFor(sum) + text.slice(at + signs.length);
}
