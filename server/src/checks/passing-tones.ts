import { beatLength } from "../chart/bar-time.js";
import type { Bar, Note, Section, SlotEvent } from "../chart/model.js";
import { writtenOut } from "../chart/unfold.js";
import { compare, isEqual, minus, plus } from "../theory/fraction.js";
import { pitchClass } from "../theory/note-name.js";

/** Half steps of a whole step. */
const wholeStep = 2;

/**
 * Whether a note walks into the next chord: the left hand strikes it alone in a bar's last beat or in a pickup, it
 * sounds up to the bar line, and from there it moves by a half step or a whole step into the chord's bass, which that
 * hand strikes as its lowest tone where the chord begins. It must do so each time, as far as the section knows.
 */
export function isPassing(note: Note, section: Section): boolean {
  const { bars, rows } = section;
  if (note.row !== "left" || note.pushed || note.rolled) return false;
  const slot = rows.left.slots.find(({ struck }) => struck.includes(note));
  if (slot === undefined || slot.held.length > 0 || slot.struck.some((it) => it !== note && !it.grace))
    return false;
  const bar = bars[note.bar];
  if (bar === undefined) return false;
  const end = plus(note.at, note.length);
  if (note.pickup) return isEqual(end, bar.at) && isSteppedInto(note, bar, section);
  const barEnd = plus(bar.at, bar.length);
  if (!isEqual(end, barEnd) || compare(note.at, minus(barEnd, beatLength(bar.meter))) < 0) return false;
  const next = barsAfter(bar, section);
  return next.length > 0 && next.every((it) => !hasPickup(it, section) && isSteppedInto(note, it, section));
}

/** The bars that may follow one in its section; empty where something else is played before one of them. */
function barsAfter(bar: Bar, { bars, plays, vamp }: Section): readonly Bar[] {
  const played = [...writtenOut(bars)].map((it) => it.bar);
  const [first] = played;
  const next = new Set<Bar>();
  played.forEach(({ index }, i) => {
    const it = played[i + 1] ?? (vamp ? first : undefined);
    if (index === bar.index && it !== undefined) next.add(it);
  });
  const isParted = [...next].some(({ index }) => plays.some(({ beforeBar }) => beforeBar === index));
  return isParted ? [] : [...next];
}

const hasPickup = ({ index }: Bar, { rows }: Section): boolean =>
  rows.left.slots.some(({ bar, pickup }) => pickup && bar === index);

function isSteppedInto({ pitch }: Note, { index, at }: Bar, { rows }: Section): boolean {
  const into = rows.left.slots.find((it) => it.bar === index && !it.pickup && isEqual(it.at, at));
  const chord = into?.chord;
  const lowest = into?.placed?.lowest;
  if (
    into === undefined ||
    chord === undefined ||
    lowest === undefined ||
    into.pushed ||
    !isEqual(chord.at, at)
  )
    return false;
  const bass = chord.chord.bass ?? chord.chord.root;
  const step = Math.abs(lowest.midi - pitch.midi);
  return step >= 1 && step <= wholeStep && strikesLowest(into, bass);
}

/** Whether the lowest tone of a slot is struck there and is this one, a place on the line of fifths. */
const strikesLowest = (slot: SlotEvent, fifths: number): boolean =>
  slot.struck.some(
    ({ grace, pitch }) =>
      !grace && pitch.midi === slot.placed?.lowest?.midi && pitchClass(pitch.fifths) === pitchClass(fifths),
  );
