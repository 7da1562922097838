import type { Note, SlotEvent } from "../chart/model.js";
import type { PlacedStack } from "../chart/stack.js";
import { movedExactly } from "../edits/octave-in-text.js";
import { highestKey, isOnKeyboard, lowestKey } from "../keyboard/keyboard-range.js";
import type { PitchedRow } from "../syntax/tree.js";
import { areApart, type Edit } from "../text/edits.js";
import { sliceOf } from "../text/span.js";
import { prettyPitch } from "../theory/pitch.js";
import type { JudgedSection, SectionCheck } from "./check.js";
import { failingKeys } from "./keys-played.js";
import { octaveEdit } from "./octave-edit.js";
import { type KeySet, keySets, laterPlaces, placeIn } from "./sounding-keys.js";
import { mendingTrial } from "./trial.js";
import { writtenOut } from "./written-out.js";

/** A key that the piano doesn't have, in one of the keys in which the form plays it. */
export const offKeyboard: SectionCheck<"off-keyboard"> = {
  code: "off-keyboard",
  run(judged, report) {
    const isMended = mendingTrial(judged, (section) => placesOff({ ...judged, section }).length);
    for (const { row, set, note, side, keys } of placesOff(judged)) {
      const octaves = octavesBack(note, side, judged);
      const facts = { note: prettyPitch(note.pitch), side, octaves, keys };
      const edits = bringBack(set, note, side, judged);
      const fixes =
        edits !== undefined && isMended(edits)
          ? [{ title: titleOf(octaves, side), edits, silent: false }]
          : [];
      report(placeIn(set.slot, note), facts, { row, related: laterPlaces(set), fixes });
    }
  },
};

/** A set of keys, its outermost note that no piano has, and the keys of the form in which that is so. */
interface PlaceOff {
  readonly row: PitchedRow;
  readonly set: KeySet;
  readonly note: Note;
  readonly side: Side;
  readonly keys: readonly string[];
}

function placesOff({ section, played }: JudgedSection): readonly PlaceOff[] {
  const found: PlaceOff[] = [];
  const moves = played.map(({ halfSteps }) => halfSteps);
  const [low, high] = [Math.min(...moves), Math.max(...moves)];
  const isOff = (lowest: number, highest: number): boolean =>
    lowest + low < lowestKey || highest + high > highestKey;
  const isOfConcern = ({ lowest, highest }: PlacedStack): boolean =>
    lowest !== undefined && highest !== undefined && isOff(lowest.midi, highest.midi);
  const told = new Set<number>();
  for (const row of ["lead", "right", "left", "bass"] as const) {
    if (!isOff(section.rows[row].lowest, section.rows[row].highest)) continue;
    for (const set of keySets(section, row, isOfConcern)) {
      const failing = (note: Note | undefined, side: Side) =>
        note && failingKeys(played, (by) => reaches(note.pitch.midi + by, side));
      const lowest = set.notes[0];
      const below = failing(lowest, "below");
      const side: Side = below === undefined ? "above" : "below";
      const note = side === "below" ? lowest : set.notes[set.notes.length - 1];
      const keys = (below ?? failing(note, side))?.names;
      if (note === undefined || keys === undefined) continue;
      const { start } = placeIn(set.slot, note);
      // The same text under another chord, by = or %.
      if (told.has(start)) continue;
      told.add(start);
      found.push({ row, set, note, side, keys });
    }
  }
  return found;
}

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

/** The note moved at every place, and at each time that the text of one sounds and lies off; none where that can't be. */
function bringBack(
  { slot, later }: KeySet,
  { pitch }: Note,
  side: Side,
  judged: JudgedSection,
): readonly Edit[] | undefined {
  const { section } = judged;
  const edits: Edit[] = [];
  for (const place of [slot, ...later]) {
    const old = sliceOf(section.source.text, place.span);
    const first = place.struck.find((it) => !it.grace && it.pitch.midi === pitch.midi);
    if (first === undefined) return undefined;
    let isLost = false;
    const there = writtenOut(section, place, (time) => {
      const note = time.struck.find((it) => !it.grace && it.span.start === first.span.start);
      if (note === undefined || !isOffIn(note, side, judged)) return old;
      const octaves = octavesBack(note, side, judged) * (side === "below" ? 1 : -1);
      const edit = movedNote(note, time, octaves, judged) ?? movedStack(time, octaves, judged);
      isLost ||= edit === undefined;
      if (edit === undefined) return old;
      const { start, end } = edit.span;
      return old.slice(0, start - place.span.start) + edit.text + old.slice(end - place.span.start);
    });
    if (isLost || there === undefined) return undefined;
    edits.push(...there);
  }
  return areApart(edits) ? edits : undefined;
}

const isOffIn = ({ pitch: { midi } }: Note, side: Side, { played }: JudgedSection): boolean =>
  played.some(({ halfSteps }) => reaches(midi + halfSteps, side));

const titleOf = (octaves: number, side: Side): string =>
  `Move it ${side === "below" ? "up" : "down"} ${octaves === 1 ? "an octave" : `${octaves} octaves`}`;

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
