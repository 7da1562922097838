import type { Note, Section } from "../chart/model.js";
import { type Moment, meetings } from "../chart/two-hands.js";
import type { Hand } from "../keyboard/hand.js";

/** Two grips of the hands that are in each other's way, with every moment at which they meet. */
export interface HandsThatMeet {
  /** The hand that strikes last; the right one where both strike. */
  readonly hand: Hand;
  /** The keys that both need; empty where they cross. */
  readonly shared: readonly number[];
  /** In written order. */
  readonly moments: readonly Moment[];
}

const keysOf = ({ left, right }: Moment, hand: Hand): readonly number[] =>
  (hand === "left" ? left : right).notes.map(({ pitch }) => pitch.midi);

const sharedIn = (moment: Moment): readonly number[] => {
  const right = keysOf(moment, "right");
  return keysOf(moment, "left").filter((key) => right.includes(key));
};

/** Grips that need the same keys at once: each set of keys of the hand that strikes last, once. */
export const handsThatCollide = (section: Section): readonly HandsThatMeet[] =>
  grouped(section, (moment) => sharedIn(moment).length > 0);

/** Grips that cross without sharing a key. */
export const handsThatCross = (section: Section): readonly HandsThatMeet[] =>
  grouped(section, (moment) => sharedIn(moment).length === 0);

/** Those among them of which each hand has keys on both sides of a key of the other. */
export const handsThatInterlock = (section: Section): readonly HandsThatMeet[] =>
  handsThatCross(section).filter(({ moments }) => moments.some(areInterlocked));

/** A roll passes by. */
const areInterlocked = ({ left, right }: Moment): boolean =>
  !left.slot.rolled &&
  !right.slot.rolled &&
  isBetween(left.notes, right.notes) &&
  isBetween(right.notes, left.notes);

/** Whether one of some notes lies between two of others; both stand from the lowest up. */
function isBetween(notes: readonly Note[], others: readonly Note[]): boolean {
  const [lowest, highest] = [others[0], others.at(-1)];
  if (lowest === undefined || highest === undefined) return false;
  return notes.some(({ pitch: { midi } }) => lowest.pitch.midi < midi && midi < highest.pitch.midi);
}

/** At how many places they are told: those of one text are told as one. */
export const placesOfMeeting = (found: readonly HandsThatMeet[]): number =>
  new Set(found.map(({ hand, moments }) => moments[0]?.[hand].slot.span.start)).size;

function grouped(section: Section, isOfConcern: (moment: Moment) => boolean): readonly HandsThatMeet[] {
  const found = new Map<string, { hand: Hand; shared: readonly number[]; moments: Moment[] }>();
  for (const moment of meetings(section)) {
    if (!isOfConcern(moment)) continue;
    const hand = moment.right.strikes ? "right" : "left";
    const shared = sharedIn(moment);
    const other = shared.length > 0 ? shared : keysOf(moment, hand === "left" ? "right" : "left");
    const name = `${hand} ${keysOf(moment, hand).join(" ")} / ${other.join(" ")}`;
    const known = found.get(name);
    if (known === undefined) found.set(name, { hand, shared, moments: [moment] });
    else known.moments.push(moment);
  }
  return [...found.values()];
}
