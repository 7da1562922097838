import type { Slot } from "../syntax/tree.js";
import { compare, divide, type Fraction, isEqual, minus, over, plus, times } from "../theory/fraction.js";
import { isNoteValue } from "../theory/note-value.js";

/** What a row does from a moment of a bar on: the text of a stack, or a rest. */
export interface Stroke {
  /** From the bar's start. */
  readonly at: Fraction;
  readonly text: string;
}

/** Groups nest no deeper, by the language. */
const deepest = 4;
/** No part of a bar is cut finer for one row: beyond that a rhythm is nobody's accompaniment. */
const mostParts = 12;

/**
 * The slots of a bar that strike at these moments (in order) and hold between them, cut as the `like` slots of another
 * row are, in as few slots as say it; before the first stroke it goes on with what sounded before. `undefined` where
 * no plain slots fall there.
 */
export function barSlots(
  strokes: readonly Stroke[],
  like: readonly Slot[],
  length: Fraction,
  beats: number,
): string | undefined {
  const slots = fill(strokes, like, { n: 0, d: 1 }, length, 0);
  return slots && fewest(slots, length, beats).join(" ");
}

/** The slots of a pickup: as many as the other row has, since each is a beat. */
export const pickupSlots = (
  strokes: readonly Stroke[],
  like: readonly Slot[],
  length: Fraction,
): string | undefined => fill(strokes, like, { n: 0, d: 1 }, length, 0)?.join(" ");

function fill(
  strokes: readonly Stroke[],
  like: readonly Slot[],
  from: Fraction,
  length: Fraction,
  depth: number,
): readonly string[] | undefined {
  if (depth > deepest) return undefined;
  const count = like.length === 0 ? partsFor(strokes, from, length) : like.length;
  if (count === undefined) return undefined;
  const each = over(length, count);
  const slots: string[] = [];
  for (let i = 0; i < count; i++) {
    const start = plus(from, times(each, i));
    const end = plus(start, each);
    const inside = strokes.filter(({ at }) => compare(at, start) >= 0 && compare(at, end) < 0);
    const [first, second] = inside;
    if (first === undefined) slots.push("-");
    else if (second === undefined && isEqual(first.at, start)) slots.push(first.text);
    else {
      const slot = like[i];
      const inner = fill(inside, slot?.kind === "group" ? slot.slots : [], start, each, depth + 1);
      if (inner === undefined) return undefined;
      slots.push(`(${inner.join(" ")})`);
    }
  }
  return slots;
}

/** The fewest even parts on whose starts all strokes fall. */
function partsFor(strokes: readonly Stroke[], from: Fraction, length: Fraction): number | undefined {
  let parts = 1;
  for (const { at } of strokes) {
    const { d } = divide(minus(at, from), length);
    while (parts % d !== 0) if (++parts > mostParts) return undefined;
  }
  return parts === 1 || isNoteValue(over(length, parts)) ? parts : undefined;
}

/** The same in fewer slots, where only holds behind a stroke fall out and plain ones stay; no three in a bar of four beats. */
function fewest(slots: readonly string[], length: Fraction, beats: number): readonly string[] {
  for (let count = 1; count < slots.length; count++) {
    const by = slots.length / count;
    if (!Number.isInteger(by) || (count === 3 && beats === 4) || !isNoteValue(over(length, count))) continue;
    // A group that lasted longer would have another rhythm.
    const mayFall = slots.every((slot, i) => (i % by === 0 ? !slot.startsWith("(") : slot === "-"));
    if (mayFall) return slots.filter((_, i) => i % by === 0);
  }
  return slots;
}
