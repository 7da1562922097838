import type { Line, RowLine, Slot, SlotContent } from "../syntax/tree.js";
import { columnsOf } from "../text/columns.js";
import { sliceOf } from "../text/span.js";
import { bodyOf, oneSpace } from "./line-parts.js";

/**
 * A note that a syllable stands under: in the slot `at`, so many columns behind the start of the slot's text. In a
 * pickup `at` counts back from the first bar line.
 */
export interface SungNote {
  readonly at: number;
  readonly inside: number;
}

/** What the slots of a lead line strike, in order. */
export interface SungNotes {
  readonly pickup: readonly SungNote[];
  readonly bars: readonly (readonly SungNote[])[];
}

const known = new WeakMap<Line, SungNotes>();

/** The notes of a `lead` line as its text gives them; none in a bar that repeats the one before (`%`). */
export function sungNotes(line: Line): SungNotes {
  const before = known.get(line);
  if (before !== undefined) return before;
  const { pickup, bars } = line.statement as RowLine;
  const body = bodyOf(line);
  const notes = {
    pickup: notesIn(body, pickup).map(({ at, inside }) => ({ at: at - pickup.length, inside })),
    bars: bars.map(({ slots }) => notesIn(body, slots)),
  };
  known.set(line, notes);
  return notes;
}

function notesIn(body: string, slots: readonly Slot[]): readonly SungNote[] {
  const notes: SungNote[] = [];
  /** Whether a `=` would strike something. */
  let strikes = false;
  const walk = (slot: Slot, at: number, inside: number): number => {
    if (slot.kind === "leaf") {
      strikes = isStruck(slot.content, strikes);
      if (strikes && slot.content.kind !== "hold") notes.push({ at, inside });
      return inside + columnsOf(sliceOf(body, slot.span));
    }
    let column = inside;
    let from = slot.span.start;
    for (const inner of slot.slots) {
      column = walk(inner, at, column + columnsOf(oneSpace(body.slice(from, inner.span.start))));
      from = inner.span.end;
    }
    return column + columnsOf(oneSpace(body.slice(from, slot.span.end)));
  };
  slots.forEach((slot, at) => {
    walk(slot, at, 0);
  });
  return notes;
}

/** Whether a slot strikes something, or, where it goes on with the one before, whether that one did. */
function isStruck(content: SlotContent, before: boolean): boolean {
  switch (content.kind) {
    case "stack":
      return true;
    case "hold":
    case "again":
      return before;
    default:
      return false;
  }
}
