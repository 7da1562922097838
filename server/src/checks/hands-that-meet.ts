import type { Note, Section } from "../chart/model.js";
import { type Moment, meetings } from "../chart/two-hands.js";
import type { Hand } from "../keyboard/hand.js";

/** Two grips of the hands that are in each other's way, with every moment at which they meet. */
export interface HandsThatMeet {
  /** The hand that strikes last; where both strike the right one, or the left one where that is written there alone. */
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
  grouped(section, (moment) => {
    const shared = sharedIn(moment);
    if (shared.length === 0) return undefined;
    const hand = strikingLast(moment);
    return { hand, shared, name: `${hand} ${keysOf(moment, hand).join(" ")} / ${shared.join(" ")}` };
  });

/** Grips that cross without sharing a key: each pair once, whichever hand strikes it first or anew. */
export const handsThatCross = (section: Section): readonly HandsThatMeet[] =>
  grouped(section, (moment) => {
    if (sharedIn(moment).length > 0) return undefined;
    const name = `${keysOf(moment, "left").join(" ")} / ${keysOf(moment, "right").join(" ")}`;
    return { hand: strikingLast(moment), shared: [], name };
  });

const strikingLast = ({ left, right }: Moment): Hand => {
  const isLeftAlone =
    left.strikes && left.slot.repeatedBy === undefined && right.slot.repeatedBy !== undefined;
  return right.strikes && !isLeftAlone ? "right" : "left";
};

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

function grouped(
  section: Section,
  judge: (moment: Moment) => (Pick<HandsThatMeet, "hand" | "shared"> & { readonly name: string }) | undefined,
): readonly HandsThatMeet[] {
  const found = new Map<string, HandsThatMeet & { readonly moments: Moment[] }>();
  for (const moment of meetings(section)) {
    const it = judge(moment);
    if (it === undefined) continue;
    const known = found.get(it.name);
    if (known === undefined) found.set(it.name, { hand: it.hand, shared: it.shared, moments: [moment] });
    else known.moments.push(moment);
  }
  return [...found.values()];
}
