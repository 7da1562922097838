import { rowIn } from "../chart/layout.js";
import type { PlacedSection, System } from "../chart/model.js";
import { shift } from "../text/span.js";
import { prettyChord } from "../theory/chord.js";
import type { Stretch } from "./hand-line.js";
import type { EditNote } from "./result.js";

/** A bar of a hand, or the pickup into it. */
export type BarOfHand = Pick<Stretch, "hand" | "bar" | "pickup">;

export const isSameBar = (a: BarOfHand, b: BarOfHand): boolean =>
  a.hand === b.hand && a.bar === b.bar && a.pickup === b.pickup;

/** A bar that is left as it is, and what is said of that. */
export interface StayingBar extends BarOfHand {
  readonly note: EditNote | undefined;
}

/** The bars in which a hand has something written for a chord that can't be voiced: its own, and where it is pushed to it. */
export function stayingFor(
  { hand, chord, system: index, bar, pickup }: Stretch,
  { section, offset }: PlacedSection,
): readonly StayingBar[] {
  if (chord === undefined) return [];
  const system = section.systems[index] as System;
  const line = rowIn(system, hand)?.line;
  const own = (pickup ? line?.pickup : line?.bars[bar - system.firstBar]?.slots) ?? [];
  const note = {
    message: `No voicing of ${prettyChord(chord.chord)} can be played here, so its bar stays as it was. Voice it by hand, or in another style.`,
    span: shift(chord.span, offset),
  };
  const pushed = section.rows[hand].slots.filter((it) => it.pushed && it.chord === chord);
  return [
    ...(own.length === 0 ? [] : [{ hand, bar, pickup, note }]),
    ...pushed.map((it) => ({ hand, bar: it.bar, pickup: it.pickup, note: undefined })),
  ];
}
