import type { Slot } from "../syntax/tree.js";
import { divide, type Fraction, fraction, isEqual, over, plus, times, zero } from "../theory/fraction.js";
import type { Leaf, Meter } from "./model.js";

/** A slot shorter than this part of a whole note can't be told apart any more; its bar counts as empty. */
const finest = 65_536;

/** The length of a bar in whole notes. */
export const barLength = ({ beats, unit }: Meter): Fraction => fraction(beats, unit);

/** In 6/8, 9/8 and 12/8 the dotted quarter, in any other meter the lower number. */
export const beatLength = ({ beats, unit }: Meter): Fraction =>
  unit === 8 && (beats === 6 || beats === 9 || beats === 12) ? fraction(3, 8) : fraction(1, unit);

/** How many beats a bar has. */
export const beatsInBar = (meter: Meter): number => {
  const { n, d } = divide(barLength(meter), beatLength(meter));
  return n / d;
};

interface Timed {
  readonly length: Fraction;
  readonly leaves: readonly Leaf[] | undefined;
}

/** The slots of a memoised line are the same objects wherever the line stands, nearly always in one meter. */
const known = new WeakMap<readonly Slot[], Timed>();

/**
 * The leaves of a bar (or of a pickup) with their times from its start: the slots share `length` evenly, those of
 * a group the time of their group. `undefined` where a slot is too short to be counted.
 */
export function leavesOf(slots: readonly Slot[], length: Fraction): readonly Leaf[] | undefined {
  const before = known.get(slots);
  if (before !== undefined && isEqual(before.length, length)) return before.leaves;
  const leaves = openAll(slots, length);
  known.set(slots, { length, leaves });
  return leaves;
}

function openAll(slots: readonly Slot[], length: Fraction): readonly Leaf[] | undefined {
  const leaves: Leaf[] = [];
  const open = (slots: readonly Slot[], from: Fraction, length: Fraction, octaves: number): boolean => {
    const each = over(length, slots.length);
    if (each.d > finest) return false;
    for (let i = 0; i < slots.length; i++) {
      const slot = slots[i] as Slot;
      const at = i === 0 ? from : plus(from, times(each, i));
      if (slot.kind === "leaf") {
        leaves.push({ content: slot.content, span: slot.span, at, length: each, octaves });
      } else if (!open(slot.slots, at, each, octaves + slot.octaves)) return false;
    }
    return true;
  };
  // A copy has no room for more, which a list that has grown keeps: there are thousands of them.
  return slots.length === 0 || open(slots, zero, length, 0) ? leaves.slice() : undefined;
}
