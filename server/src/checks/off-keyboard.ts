import type { Note, SlotEvent } from "../chart/model.js";
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
    const moves = played.map(({ halfSteps }) => halfSteps);
    const [low, high] = [Math.min(...moves), Math.max(...moves)];
    const isOffSomewhere = ({ pitch: { midi } }: Note): boolean =>
      midi + low < lowestKey || midi + high > highestKey;
    const isOfConcern = ({ struck, held }: SlotEvent): boolean =>
      struck.some(isOffSomewhere) || held.some(isOffSomewhere);
    const told = new Set<number>();
    for (const row of ["lead", "right", "left", "bass"] as const) {
      for (const set of keySets(section, row, isOfConcern)) {
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
        // The same text under another chord, by = or %.
        if (told.has(span.start)) continue;
        told.add(span.start);
        const octaves = octavesBack(note, side, judged);
        const facts = { note: prettyPitch(note.pitch), side, octaves, keys };
        const fixes = bringBack(set, note, side === "below" ? octaves : -octaves, judged);
        report(span, facts, { row, related: laterPlaces(set), fixes });
      }
    }
  },
};

type Side = "below" | "above";

const reaches = (midi: number, side: Side): boolean =>
  side === "below" ? midi < lowestKey : midi > highestKey;

/** As many octaves as bring a note back in every key in which the form plays it. */
const octavesBack = ({ pitch: { midi } }: Note, side: Side, { played }: JudgedSection): number =>
  Math.max(
    ...played.map(({ halfSteps }) =>
      Math.ceil((side === "below" ? lowestKey - midi - halfSteps : midi + halfSteps - highestKey) / 12),
    ),
  );

/** The note moved at every place; none where a place can't be mended so. */
function bringBack(
  { slot, later }: KeySet,
  { pitch }: Note,
  octaves: number,
  judged: JudgedSection,
): readonly Fix[] {
  const edits: Edit[] = [];
  for (const place of [slot, ...later]) {
    const note = place.struck.find((it) => !it.grace && it.pitch.midi === pitch.midi);
    const edit = note && (movedNote(note, place, octaves, judged) ?? movedStack(place, octaves, judged));
    if (edit === undefined) return [];
    edits.push(edit);
  }
  const count = Math.abs(octaves) === 1 ? "an octave" : `${Math.abs(octaves)} octaves`;
  return [{ title: `Move it ${octaves > 0 ? "up" : "down"} ${count}`, edits, silent: false }];
}

function movedNote(
  note: Note,
  { struck }: SlotEvent,
  octaves: number,
  { section }: JudgedSection,
): Edit | undefined {
  const { tone, span } = note;
  if (tone.name.kind === "pitch" && tone.name.octave !== undefined) {
    const moved = movedExactly(sliceOf(section.source.text, span), octaves);
    return moved === undefined ? undefined : { span, text: moved };
  }
  // A sign inside a stack only lifts, and what is held must stay where it sounds.
  const isLowest = struck.find(({ grace }) => !grace) === note;
  return tone.held !== undefined || (!isLowest && tone.octaves + octaves < 0)
    ? undefined
    : octaveEdit(note, octaves);
}

/** The whole stack, by its lowest tone, where every key of it then lies on the keyboard. */
function movedStack(
  { struck, held }: SlotEvent,
  octaves: number,
  { played }: JudgedSection,
): Edit | undefined {
  const lowest = struck.find(({ grace }) => !grace);
  const isFree = struck.every(
    ({ tone: { name, held } }) => held === undefined && (name.kind === "number" || name.octave === undefined),
  );
  const fits = struck.every(({ pitch: { midi } }) =>
    played.every(({ halfSteps }) => isOnKeyboard(midi + halfSteps + 12 * octaves)),
  );
  return lowest !== undefined && held.length === 0 && isFree && fits
    ? octaveEdit(lowest, octaves)
    : undefined;
}
