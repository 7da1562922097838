import type { Hand } from "../keyboard/hand.js";
import { compare, type Fraction } from "../theory/fraction.js";
import type { Note, Section, SlotEvent } from "./model.js";
import { strikes } from "./strikes.js";

/** What a hand holds down at a moment. */
export interface HandNow {
  /** The slot that it is in; it strikes there, or goes on. */
  readonly slot: SlotEvent;
  readonly strikes: boolean;
  /** From the lowest key up; of two tones on one key the one held. Of a roll that is over what must stay down. */
  readonly notes: readonly Note[];
}

/** A moment at which one hand strikes or both do, with what both hold down. */
export interface Moment {
  readonly left: HandNow;
  readonly right: HandNow;
}

const known = new WeakMap<Section, readonly Moment[]>();
const none: readonly Moment[] = [];

/**
 * Where the hands meet: the moments, in written order, at which the left hand's highest key is not below the right
 * hand's lowest. Somebody else's lead or bass is no hand.
 */
export function meetings(section: Section): readonly Moment[] {
  const { left, right, bass, lead } = section.rows;
  if (Math.max(left.highest, bass.highest) < Math.min(right.lowest, lead.lowest)) return none;
  let found = known.get(section);
  if (found === undefined) {
    found = meetingsIn(section);
    known.set(section, found);
  }
  return found;
}

/** Slots of one hand that follow each other without a gap: `slots[start]` to `slots[end - 1]`. */
interface Run {
  readonly slots: readonly SlotEvent[];
  readonly start: number;
  readonly end: number;
}

/** A hand's slots bar by bar, each with its pickup before it. */
interface Reader {
  readonly slots: readonly SlotEvent[];
  at: number;
}

function meetingsIn(section: Section): readonly Moment[] {
  const found: Moment[] = [];
  const left: Reader = { slots: slotsOf(section, "left"), at: 0 };
  const right: Reader = { slots: slotsOf(section, "right"), at: 0 };
  if (left.slots.length === 0 || right.slots.length === 0) return none;
  let [leftBefore, rightBefore] = [empty, empty];
  for (const { index, repeat } of section.bars) {
    const [leftPickup, rightPickup] = [next(left, index, true), next(right, index, true)];
    const [leftBar, rightBar] = [next(left, index, false), next(right, index, false)];
    // The bar before is the one covered, unless something else is played between or a first ending is left out.
    const isCovered = repeat.ending !== 2 && !section.plays.some(({ beforeBar }) => beforeBar === index);
    const [leftFrom, rightFrom] = [startOf(leftPickup), startOf(rightPickup)];
    if (isCovered) {
      meet(leftBefore, rightPickup, leftFrom, found);
      meet(leftPickup, rightBefore, rightFrom, found);
    }
    meet(leftPickup, rightPickup, undefined, found);
    const until = section.bars[index]?.repeat.end === true ? undefined : pickupAfter(left, right, index + 1);
    meet(leftBar, rightBar, until, found);
    [leftBefore, rightBefore] = [leftBar, rightBar];
  }
  return found;
}

const empty: Run = { slots: [], start: 0, end: 0 };

const ownRow = { left: "left", right: "right" } as const;
const melodyRow = { left: "bass", right: "lead" } as const;

/** The slots that a hand plays, in written order: of its own row, and of the melody where it has none. */
function slotsOf({ rows }: Section, hand: Hand): readonly SlotEvent[] {
  const own = rows[ownRow[hand]].slots;
  const melody = rows[melodyRow[hand]].slots.filter((slot) => slot.hand === hand);
  if (melody.length === 0) return own;
  return own.length === 0 ? melody : [...own, ...melody].sort((a, b) => a.system - b.system);
}

/** The run that a hand plays in a bar, or in the pickup before it. */
function next(reader: Reader, bar: number, pickup: boolean): Run {
  const { slots, at } = reader;
  let end = at;
  for (let it = slots[end]; it?.bar === bar && it.pickup === pickup; it = slots[end]) end++;
  reader.at = end;
  return { slots, start: at, end };
}

const startOf = ({ slots, start, end }: Run): Fraction | undefined =>
  start < end ? slots[start]?.at : undefined;

/** When a hand leaves the bar before `bar` for a pickup, the first to do so; `undefined` where none does. */
function pickupAfter(left: Reader, right: Reader, bar: number): Fraction | undefined {
  const [one, other] = [left, right].map(({ slots, at }) => {
    const slot = slots[at];
    return slot?.bar === bar && slot.pickup ? slot.at : undefined;
  });
  if (one === undefined || other === undefined) return one ?? other;
  return compare(one, other) <= 0 ? one : other;
}

/** Goes through two runs in time, as far as `until`, and looks at each moment at which one of them strikes. */
function meet(left: Run, right: Run, until: Fraction | undefined, found: Moment[]): void {
  let [i, j] = [left.start, right.start];
  while (i < left.end && j < right.end) {
    const [a, b] = [left.slots[i] as SlotEvent, right.slots[j] as SlotEvent];
    const [afterA, afterB] = [
      i + 1 < left.end ? left.slots[i + 1] : undefined,
      j + 1 < right.end ? right.slots[j + 1] : undefined,
    ];
    if (afterA !== undefined && compare(afterA.at, b.at) <= 0) {
      i++;
      continue;
    }
    if (afterB !== undefined && compare(afterB.at, a.at) <= 0) {
      j++;
      continue;
    }
    const order = compare(a.at, b.at);
    if (until !== undefined && compare(order < 0 ? b.at : a.at, until) >= 0) return;
    look(a, b, order, found);
    if (afterA === undefined && afterB === undefined) return;
    const first = afterA === undefined ? 1 : afterB === undefined ? -1 : compare(afterA.at, afterB.at);
    if (first <= 0) i++;
    if (first >= 0) j++;
  }
}

/** `order` is below 0 where the left hand's slot starts first, above 0 where the right hand's does. */
function look(left: SlotEvent, right: SlotEvent, order: number, found: Moment[]): void {
  const isLeftNew = order >= 0;
  const isRightNew = order <= 0;
  if (!(isLeftNew && strikes(left)) && !(isRightNew && strikes(right))) return;
  if (edgeOf(left, isLeftNew, "highest") < edgeOf(right, isRightNew, "lowest")) return;
  found.push({ left: nowOf(left, isLeftNew), right: nowOf(right, isRightNew) });
}

/** The outermost key that is down in a slot, at its start or later; infinite (and the wrong way round) where none is. */
function edgeOf(slot: SlotEvent, isNew: boolean, edge: "highest" | "lowest"): number {
  const sign = edge === "highest" ? 1 : -1;
  // What a stack strikes or holds on to is down, unless it is rolled.
  if (slot.placed !== undefined && !slot.rolled)
    return slot.placed[edge]?.midi ?? sign * Number.NEGATIVE_INFINITY;
  let most = Number.NEGATIVE_INFINITY;
  for (const note of slot.struck)
    if (isDown(note, slot, isNew)) most = Math.max(most, sign * note.pitch.midi);
  for (const note of slot.held) if (isDown(note, slot, isNew)) most = Math.max(most, sign * note.pitch.midi);
  return sign * most;
}

/** A roll leaves its keys at once, but for those that a `_` holds. */
const isDown = (note: Note, { at }: SlotEvent, isNew: boolean): boolean =>
  !note.grace &&
  (!note.rolled || (isNew && compare(note.at, at) === 0) || note.heldBy.some(({ text }) => text !== "-"));

function nowOf(slot: SlotEvent, isNew: boolean): HandNow {
  const notes: Note[] = [];
  for (const note of [...slot.held, ...slot.struck]) {
    const isThere = notes.some(({ pitch }) => pitch.midi === note.pitch.midi);
    if (!isThere && isDown(note, slot, isNew)) notes.push(note);
  }
  notes.sort((a, b) => a.pitch.midi - b.pitch.midi);
  return { slot, strikes: isNew && strikes(slot), notes };
}
