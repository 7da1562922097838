import type { Note, Section, SlotEvent } from "../chart/model.js";
import type { Fix } from "../problems/problem.js";
import type { Edit } from "../text/edits.js";
import { sliceOf } from "../text/span.js";
import { prettyPitch } from "../theory/pitch.js";
import type { JudgedSection, SectionCheck } from "./check.js";
import { failingKeys } from "./keys-played.js";
import { octaveEdit } from "./octave-edit.js";
import { movedExactly } from "./octave-in-text.js";
import { type KeySet, keySets, laterPlaces, placeIn } from "./sounding-keys.js";

/** The piano's lowest and highest key, A0 and C8, as MIDI numbers (common practice, 88 keys). */
const lowestKey = 21;
const highestKey = 108;

export const isOnKeyboard = (midi: number): boolean => midi >= lowestKey && midi <= highestKey;

/** A key that the piano doesn't have, in one of the keys in which the form plays it. */
export const offKeyboard: SectionCheck<"off-keyboard"> = {
  code: "off-keyboard",
  run(judged, report) {
    const { section, played } = judged;
    for (const row of ["lead", "right", "left", "bass"] as const) {
      for (const set of keySets(section, row)) {
        const isOff = (note: Note | undefined, side: Side): note is Note =>
          note !== undefined &&
          failingKeys(played, (by) => reaches(note.pitch.midi + by, side)) !== undefined;
        const lowest = set.notes[0];
        const highest = set.notes[set.notes.length - 1];
        const side: Side = isOff(lowest, "below") ? "below" : "above";
        const note = side === "below" ? lowest : highest;
        if (!isOff(note, side)) continue;
        const keys = failingKeys(played, (by) => reaches(note.pitch.midi + by, side))?.names ?? [];
        const span = placeIn(set.slot, note);
        const facts = { note: prettyPitch(note.pitch), side, keys };
        report(span, facts, { row, related: laterPlaces(set), fixes: bringBack(set, side, judged) });
      }
    }
  },
};

type Side = "below" | "above";

const reaches = (midi: number, side: Side): boolean =>
  side === "below" ? midi < lowestKey : midi > highestKey;

/** As many octaves back as it takes, at every place; none where a place can't be mended so. */
function bringBack(
  { slot, later, notes }: KeySet,
  side: Side,
  { section, played }: JudgedSection,
): readonly Fix[] {
  const worst = side === "below" ? notes[0] : notes[notes.length - 1];
  if (worst === undefined) return [];
  const step = side === "below" ? 1 : -1;
  const isOff = (octaves: number): boolean =>
    played.some(({ halfSteps }) => reaches(worst.pitch.midi + halfSteps + 12 * step * octaves, side));
  let octaves = 1;
  while (octaves < 8 && isOff(octaves)) octaves++;
  const edits: Edit[] = [];
  for (const place of [slot, ...later]) {
    const note = place.struck.find(({ grace, pitch }) => !grace && pitch.midi === worst.pitch.midi);
    const edit = note === undefined ? undefined : movedNote(note, place, step * octaves, section);
    if (edit === undefined) return [];
    edits.push(edit);
  }
  const far = octaves === 1 ? "an octave" : `${octaves} octaves`;
  return [{ title: `Move it ${side === "below" ? "up" : "down"} ${far}`, edits, silent: false }];
}

function movedNote(
  note: Note,
  { struck }: SlotEvent,
  octaves: number,
  { source }: Section,
): Edit | undefined {
  const { tone, span } = note;
  if (tone.name.kind === "pitch" && tone.name.octave !== undefined) {
    const moved = movedExactly(sliceOf(source.text, span), octaves);
    return moved === undefined ? undefined : { span, text: moved };
  }
  // A sign inside a stack only lifts, and what is held must stay where it sounds.
  const isLowest = struck.find(({ grace }) => !grace) === note;
  return tone.held !== undefined || (!isLowest && tone.octaves + octaves < 0)
    ? undefined
    : octaveEdit(note, octaves);
}
