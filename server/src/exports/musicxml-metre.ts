import { barLength, beatLength } from "../chart/bar-time.js";
import type { Meter } from "../chart/model.js";
import { compare, divide, type Fraction, minus, over, plus, times } from "../theory/fraction.js";

/** Places in a bar that lie a `size` apart, and how strong they are. */
interface Grid {
  readonly size: Fraction;
  readonly strength: number;
}

/** How strong the places of a bar (or of a tuplet) are: which notes may run over which of them unbroken. */
export interface Metre {
  /** From the strongest on; each goes on halved for ever. */
  readonly grids: readonly Grid[];
  /** A dotted quarter is the beat: what crosses a beat is a number of whole beats. */
  readonly compound: boolean;
  readonly beat: Fraction;
}

const [bar, middle, beat] = [10, 3, 2] as const;

/** The places of a bar: its middle where it has four beats, its beats, and what they are parted into. */
export function metreOf(meter: Meter): Metre {
  const length = barLength(meter);
  const size = beatLength(meter);
  const compound = size.n === 3;
  const beats = divide(length, size).n;
  const grids: Grid[] = [{ size: length, strength: bar }];
  if (beats === 4) grids.push({ size: over(length, 2), strength: middle });
  grids.push({ size, strength: beat }, { size: over(size, compound ? 3 : 2), strength: beat - 1 });
  return { grids, compound, beat: size };
}

/** The places of a tuplet whose notes last `unit`. */
export const metreOfTuplet = (length: Fraction, unit: Fraction): Metre => ({
  grids: [
    { size: length, strength: bar },
    { size: unit, strength: beat },
    { size: over(unit, 2), strength: beat - 1 },
  ],
  compound: false,
  beat: unit,
});

function gridAt({ grids }: Metre, index: number): Grid {
  const there = grids[index];
  if (there !== undefined) return there;
  const { size, strength } = grids[grids.length - 1] as Grid;
  const finer = index - grids.length + 1;
  return { size: over(size, 2 ** finer), strength: strength - finer };
}

/** Far finer than any slot. */
const finest = 40;

/** How strong a place is; of one that no halving reaches least of all. */
export function strengthAt(metre: Metre, at: Fraction): number {
  for (let i = 0; i < finest; i++) {
    const { size, strength } = gridAt(metre, i);
    if (divide(at, size).d === 1) return strength;
  }
  return Number.NEGATIVE_INFINITY;
}

/** The strongest places inside a stretch. */
export interface Inside {
  readonly strength: number;
  /** The first and the last of them. */
  readonly first: Fraction;
  readonly last: Fraction;
  readonly size: Fraction;
}

/** The strongest places between two others; `undefined` where there is none. */
export function strongestInside(metre: Metre, from: Fraction, to: Fraction): Inside | undefined {
  for (let i = 0; i < finest; i++) {
    const { size, strength } = gridAt(metre, i);
    const { n, d } = divide(from, size);
    const first = times(size, Math.floor(n / d) + 1);
    if (compare(first, to) >= 0) continue;
    const end = divide(to, size);
    const last = times(size, Math.ceil(end.n / end.d) - 1);
    return { strength, first, last, size };
  }
  return undefined;
}

/**
 * Whether a note of one printed value may stand there unbroken (E. Gould, Behind Bars, 2011, "Rhythm": the middle of
 * a bar of four and the beats of a compound bar are shown, a syncopation over one beat is not broken). A rest starts
 * on a place at least as strong as any that it covers.
 */
export function standsUnbroken(metre: Metre, from: Fraction, to: Fraction, isRest: boolean): boolean {
  const inside = strongestInside(metre, from, to);
  if (inside === undefined) return true;
  const [before, after] = [strengthAt(metre, from), strengthAt(metre, to)];
  if (metre.compound && inside.strength >= beat) {
    return Math.min(before, after) >= beat && (!isRest || before >= inside.strength);
  }
  // Two or four in the time of a dotted beat are dotted notes, and easier to read so than tied.
  const length = minus(to, from);
  if (metre.compound && divide(metre.beat, length).d === 1 && divide(from, length).d === 1) return true;
  if (isRest) return before >= inside.strength;
  if (Math.max(before, after) >= inside.strength) return true;
  return compare(inside.first, inside.last) === 0 && Math.min(before, after) >= inside.strength - 1;
}

/** Where a stretch is broken in two. */
export function breakInside(
  metre: Metre,
  from: Fraction,
  to: Fraction,
  isWhole: (length: Fraction) => boolean,
): Fraction | undefined {
  const inside = strongestInside(metre, from, to);
  if (inside === undefined) return undefined;
  const { first, last, size } = inside;
  const steps = divide(minus(last, first), size).n;
  // From a strong place on the longest value that ends on one; else up to the first of them.
  if (strengthAt(metre, from) >= inside.strength) {
    for (let step = Math.min(steps, 64); step > 0; step--) {
      const end = plus(first, times(size, step));
      if (isWhole(minus(end, from))) return end;
    }
  }
  return first;
}
