import type { Note, SlotEvent } from "../chart/model.js";
import type { Related } from "../problems/problem.js";
import type { Span } from "../text/span.js";
import type { HandsThatMeet } from "./hands-that-meet.js";
import { placeIn } from "./sounding-keys.js";

/** Where hands meet: in the hand that strikes last, beside it in the other, and where they do so again. */
export interface MeetingPlaces {
  readonly slot: SlotEvent;
  readonly span: Span;
  readonly related: readonly Related[];
}

/** The places of some notes of the two hands in their slots. */
export function placesOf(
  { hand, moments }: HandsThatMeet,
  isConcerned: (note: Note) => boolean,
): MeetingPlaces | undefined {
  const [first, ...later] = moments;
  if (first === undefined) return undefined;
  const other = hand === "left" ? "right" : "left";
  const { slot } = first[hand];
  const related = [
    {
      span: placeOf(first[other].slot, first[other].notes.filter(isConcerned)),
      message: `The ${other} hand is here.`,
    },
  ];
  // A % says too little of itself to be marked.
  if (slot.repeatedBy !== undefined && !isAgain(slot))
    related.push({ span: slot.repeatedBy, message: "Here it is repeated, and there they meet." });
  const told = new Set([slot.span.start]);
  for (const moment of later) {
    const again = moment[moment[hand].strikes ? hand : other].slot;
    if (again.repeatedBy !== undefined || told.has(again.span.start)) continue;
    told.add(again.span.start);
    related.push({ span: again.span, message: "Here again." });
  }
  return { slot, span: placeOf(slot, first[hand].notes.filter(isConcerned)), related };
}

/** Whether a slot is a `=` of its own bar. */
const isAgain = ({ repeatedBy, written }: SlotEvent): boolean => repeatedBy?.start === written.start;

/**
 * From the first of some notes to the last; of a slot that only goes on, the slot. A `=` is marked itself: what it
 * repeats is no trouble where it stands.
 */
function placeOf(slot: SlotEvent, notes: readonly Note[]): Span {
  if (isAgain(slot)) return slot.written;
  if (slot.kind === "hold" || notes.length === 0) return slot.span;
  const spans = notes.map((note) => placeIn(slot, note));
  return {
    start: Math.min(...spans.map(({ start }) => start)),
    end: Math.max(...spans.map(({ end }) => end)),
  };
}
