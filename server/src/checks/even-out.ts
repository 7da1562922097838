import type { Fix } from "../problems/problem.js";
import type { Slot } from "../syntax/tree.js";
import { type Edit, shiftEdit } from "../text/edits.js";
import type { Fraction } from "../theory/fraction.js";
import { isNoteValue, isTriplet } from "../theory/note-value.js";
import { holdSign, type RowBar } from "./row-bars.js";

/** Groups nest so deep and no deeper. */
const deepest = 4;
/** Nobody wants more holds than these written for them. */
const mostHolds = 6;

/** The slots of one level: those of a bar, of a pickup or of a group. */
interface Level {
  readonly slots: readonly Slot[];
  /** What they share; the fraction may be in any terms. */
  readonly length: Fraction;
  /** 0 for the bar, 1 for a group in it. */
  readonly depth: number;
}

const share = (length: Fraction, count: number): Fraction => ({ n: length.n, d: length.d * count });

/** Whether so many slots on this level are notes that a player knows. One that fills its bar always is. */
const fits = ({ length, depth }: Level, count: number): boolean =>
  (depth === 0 && count === 1) || (count > 0 && isNoteValue(share(length, count)));

const groupsOf = (slots: readonly Slot[]): readonly Extract<Slot, { kind: "group" }>[] =>
  slots.filter((slot) => slot.kind === "group");

/** The first level of a bar whose slots are no plain notes and no triplets; `undefined` where all are. */
export function unevenSlotsIn(
  slots: readonly Slot[],
  length: Fraction,
  depth = 0,
): readonly Slot[] | undefined {
  if (!fits({ slots, length, depth }, slots.length)) return slots;
  for (const slot of slots) {
    if (slot.kind !== "group") continue;
    const found = unevenSlotsIn(slot.slots, share(length, slots.length), depth + 1);
    if (found !== undefined) return found;
  }
  return undefined;
}

/** One level with other slots, and what is to be written for that. */
interface Changed {
  readonly slots: readonly Slot[];
  readonly edits: readonly Edit[];
}
type Way = (level: Level) => Changed | undefined;

/** The ways of mending a bar that do: each makes all its levels even. Those that give plain notes come first. */
export function evenOut({ row, slots, length, lineStart }: RowBar): readonly Fix[] {
  const sign = holdSign(row);
  const ways: readonly [title: string, way: Way][] = [
    [`Take one ${sign} away`, dropHold],
    [`Hold the last one longer (${sign})`, holdLast(sign)],
    ["Put the last two into one slot", joinLastTwo],
  ];
  return ways
    .flatMap(([title, way]) => {
      const mended = mend({ slots, length, depth: 0 }, way);
      if (mended === undefined || unevenSlotsIn(mended.slots, length) !== undefined) return [];
      const edits = mended.edits.map((edit) => shiftEdit(edit, lineStart));
      return [{ fix: { title, edits, silent: false }, isTriplet: hasTriplet(mended.slots, length) }];
    })
    .sort((a, b) => Number(a.isTriplet) - Number(b.isTriplet))
    .map(({ fix }) => fix);
}

/** Changes each level that needs it, from the bar inwards. */
function mend(level: Level, way: Way): Changed | undefined {
  const changed = fits(level, level.slots.length) ? { slots: level.slots, edits: [] } : way(level);
  if (changed === undefined) return undefined;
  const slots: Slot[] = [];
  const edits = [...changed.edits];
  for (const slot of changed.slots) {
    if (slot.kind !== "group") {
      slots.push(slot);
      continue;
    }
    const inner = mend(
      { slots: slot.slots, length: share(level.length, changed.slots.length), depth: level.depth + 1 },
      way,
    );
    if (inner === undefined) return undefined;
    slots.push({ ...slot, slots: inner.slots });
    edits.push(...inner.edits);
  }
  return { slots, edits };
}

const isHold = (slot: Slot): boolean => slot.kind === "leaf" && slot.content.kind === "hold";

const dropHold: Way = (level) => {
  const { slots } = level;
  const at = slots.findLastIndex(isHold);
  const hold = slots[at];
  if (hold === undefined || !fits(level, slots.length - 1)) return undefined;
  const start = slots[at - 1]?.span.end ?? hold.span.start;
  return { slots: slots.toSpliced(at, 1), edits: [{ span: { start, end: hold.span.end }, text: "" }] };
};

const holdLast =
  (sign: string): Way =>
  (level) => {
    const { slots } = level;
    const { end } = (slots[slots.length - 1] as Slot).span;
    for (let more = 1; more <= mostHolds; more++) {
      if (!fits(level, slots.length + more)) continue;
      const hold: Slot = { kind: "leaf", span: { start: end, end }, content: { kind: "hold" } };
      const edits = [{ span: { start: end, end }, text: ` ${sign}`.repeat(more) }];
      return { slots: [...slots, ...new Array<Slot>(more).fill(hold)], edits };
    }
    return undefined;
  };

const joinLastTwo: Way = (level) => {
  const { slots, depth } = level;
  const last = slots.slice(-2);
  const [one, two] = last;
  if (one === undefined || two === undefined || slots.length < 3 || !fits(level, slots.length - 1))
    return undefined;
  if (depth + 1 + depthOf(last) > deepest) return undefined;
  const span = { start: one.span.start, end: two.span.end };
  const none = { start: span.start, end: span.start };
  const group: Slot = { kind: "group", span, octaves: 0, signs: none, slots: last };
  const edits = [
    { span: none, text: "(" },
    { span: { start: span.end, end: span.end }, text: ")" },
  ];
  return { slots: [...slots.slice(0, -2), group], edits };
};

/** How deep groups nest among these slots. */
const depthOf = (slots: readonly Slot[]): number =>
  groupsOf(slots).reduce((most, group) => Math.max(most, 1 + depthOf(group.slots)), 0);

const hasTriplet = (slots: readonly Slot[], length: Fraction): boolean =>
  isTriplet(share(length, slots.length)) ||
  groupsOf(slots).some((group) => hasTriplet(group.slots, share(length, slots.length)));
