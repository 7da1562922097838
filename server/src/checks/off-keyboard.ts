import type { Note } from "../chart/model.js";
import type { Fix } from "../problems/problem.js";
import { type Span, sliceOf } from "../text/span.js";
import { prettyPitch } from "../theory/pitch.js";
import type { JudgedSection, SectionCheck } from "./check.js";
import { failingKeys } from "./keys-played.js";
import { octaveEdit } from "./octave-edit.js";
import { movedExactly } from "./octave-in-text.js";
import { keySets, laterPlaces, placeIn } from "./sounding-keys.js";

/** The piano's lowest and highest key, A0 and C8, as MIDI numbers (common practice, 88 keys). */
const lowestKey = 21;
const highestKey = 108;

/** A key that the piano doesn't have, in one of the keys in which the form plays it. */
export const offKeyboard: SectionCheck<"off-keyboard"> = {
  code: "off-keyboard",
  run(judged, report) {
    const { section, played } = judged;
    for (const row of ["lead", "right", "left", "bass"] as const) {
      for (const set of keySets(section, row)) {
        const isOff = (note: Note | undefined, side: "below" | "above"): note is Note =>
          note !== undefined &&
          failingKeys(played, (by) => reaches(note.pitch.midi + by, side)) !== undefined;
        const lowest = set.notes[0];
        const highest = set.notes[set.notes.length - 1];
        const side = isOff(lowest, "below") ? ("below" as const) : ("above" as const);
        const note = side === "below" ? lowest : highest;
        if (!isOff(note, side)) continue;
        const keys = failingKeys(played, (by) => reaches(note.pitch.midi + by, side))?.names ?? [];
        const span = placeIn(set.slot, note);
        const facts = { note: prettyPitch(note.pitch), side, keys };
        report(span, facts, { row, related: laterPlaces(set), fixes: bringBack(note, span, side, judged) });
      }
    }
  },
};

const reaches = (midi: number, side: "below" | "above"): boolean =>
  side === "below" ? midi < lowestKey : midi > highestKey;

/** As many octaves back as it takes. Only where the whole stack goes along: on its lowest tone. */
function bringBack(
  note: Note,
  span: Span,
  side: "below" | "above",
  { section, played }: JudgedSection,
): readonly Fix[] {
  const step = side === "below" ? 1 : -1;
  const direction = side === "below" ? "up" : "down";
  let octaves = 0;
  while (
    octaves < 8 &&
    played.some(({ halfSteps }) => reaches(note.pitch.midi + halfSteps + 12 * step * octaves, side))
  ) {
    octaves++;
  }
  const { tone } = note;
  const exact = tone.name.kind === "pitch" && tone.name.octave !== undefined;
  const text = sliceOf(section.source.text, span);
  if (exact) {
    const moved = movedExactly(text, step * octaves);
    return moved === undefined
      ? []
      : [{ title: `Write ${moved}`, edits: [{ span, text: moved }], silent: false }];
  }
  // A sign inside a stack only lifts, and what is held must stay where it sounds.
  const isFirst = section.rows[note.row].slots.some(({ struck }) => struck[0] === note);
  if (tone.held !== undefined || (!isFirst && side === "above")) return [];
  const edits = [octaveEdit(note, step * octaves)];
  return [
    {
      title: octaves === 1 ? `Move it ${direction} an octave` : `Move it ${direction} ${octaves} octaves`,
      edits,
      silent: false,
    },
  ];
}
