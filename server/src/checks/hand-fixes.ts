import type { Note, Section, SlotEvent } from "../chart/model.js";
import type { HandNow } from "../chart/two-hands.js";
import { restacked, type WrittenTone, writtenTones } from "../edits/written-stack.js";
import { mostKeys } from "../keyboard/fingerings.js";
import type { Hand } from "../keyboard/hand.js";
import { type Way, wayTitle } from "../problems/hand-words.js";
import type { Fix } from "../problems/problem.js";
import type { Edit } from "../text/edits.js";
import { sliceOf } from "../text/span.js";
import { compare, type Fraction, isEqual, plus, printFraction } from "../theory/fraction.js";
import { prettyPitch } from "../theory/pitch.js";
import type { JudgedSection } from "./check.js";
import { type HandsThatMeet, handsThatCollide, handsThatCross } from "./hands-that-meet.js";
import { hurryIn } from "./haste.js";
import { unclearSets } from "./low-interval.js";
import { missingGuideTone } from "./missing-guide-tone.js";
import { mendingTrial } from "./trial.js";
import { isHeld, type UnheldGrip, unheldGrips } from "./unheld-grips.js";
import { allWrittenOut, timesOf } from "./written-out.js";

/** A change of some slots that mends a problem of the hands. */
export interface Plan {
  readonly way: Way;
  /** What each of them is written as then. */
  readonly stacks: ReadonlyMap<SlotEvent, string>;
  /** The notes that sound on another key then, or no longer. All others sound as they do, by whatever hand. */
  readonly changed: ReadonlyMap<Note, number | undefined>;
}

/** Ways to mend a problem, the one that changes the least in sound first; of each kind the plans, best first. */
export type Plans = readonly (readonly (Plan | undefined)[])[];

/**
 * Tries plans on a section: those come back that leave fewer of what is told, no error more, nothing that another check
 * of the hands, of muddy intervals or of missing tones would tell, and every sound but those that they say as it is.
 */
export function planTrial(
  judged: JudgedSection,
  told: "hand-span" | "too-many-notes" | "hands-collide" | "hands-cross",
): (place: SlotEvent, plans: Plans) => { readonly ways: readonly Way[]; readonly fixes: readonly Fix[] } {
  const slots = {
    "hand-span": (it: JudgedSection) => unheldGrips(it, "few").flatMap(slotOfGrip),
    "too-many-notes": (it: JudgedSection) => unheldGrips(it, "many").flatMap(slotOfGrip),
    "hands-collide": ({ section }: JudgedSection) => handsThatCollide(section).flatMap(slotOfMeeting),
    "hands-cross": ({ section }: JudgedSection) => handsThatCross(section).flatMap(slotOfMeeting),
  };
  const isMended = mendingTrial(
    judged,
    (section) => new Set(slots[told]({ ...judged, section }).map(({ span }) => span.start)).size,
    (section) => [
      handsThatCross(section).length,
      unclearSets({ ...judged, section }).length,
      missingIn({ ...judged, section }),
      hurriesIn({ ...judged, section }),
    ],
  );
  const mends = (edits: readonly Edit[], plan: Plan, place: SlotEvent): boolean =>
    isMended(
      edits,
      (tried) =>
        isAsMeant(tried, judged.section, plan) &&
        !slots[told]({ ...judged, section: tried }).some((slot) => isOf(place, slot)),
    );
  /** Whether a slot of the section after edits is one of those of a text before. */
  const isOf = (place: SlotEvent, slot: SlotEvent): boolean =>
    timesOf(judged.section, place).some((time) => isSamePlace(slot, time));
  return (place, plans) => {
    const ways: Way[] = [];
    const fixes: Fix[] = [];
    for (const alike of plans) {
      for (const plan of alike) {
        const edits = plan && allWrittenOut(judged.section, plan.stacks);
        if (plan === undefined || edits === undefined) continue;
        if (fixes.some((it) => areAlike(it.edits, edits)) || !mends(edits, plan, place)) continue;
        ways.push(plan.way);
        fixes.push({ title: wayTitle(plan.way), edits, silent: false });
        break;
      }
    }
    return { ways, fixes };
  };
}

/** Where each of them is told. */
const slotOfGrip = ({ grips }: UnheldGrip): readonly SlotEvent[] => grips.slice(0, 1).map(({ slot }) => slot);
const slotOfMeeting = ({ hand, moments }: HandsThatMeet): readonly SlotEvent[] =>
  moments.slice(0, 1).map((moment) => moment[hand].slot);

/** Whether two slots, of a section before and after edits, are the same one. */
const isSamePlace = (one: SlotEvent, other: SlotEvent): boolean =>
  one.row === other.row && one.bar === other.bar && one.pickup === other.pickup && isEqual(one.at, other.at);

/** A stack of one tone is moved as a tone and as a whole. */
const areAlike = (some: readonly Edit[], others: readonly Edit[]): boolean =>
  some.length === others.length &&
  some.every(({ span, text }, i) => span.start === others[i]?.span.start && text === others[i]?.text);

/** A roll takes its time, and so does a leap to a tone that is given to the other hand. */
function hurriesIn(judged: JudgedSection): number {
  const { leaps, rolls } = hurryIn(judged);
  return leaps.length + rolls.length;
}

function missingIn(judged: JudgedSection): number {
  let count = 0;
  missingGuideTone.run(judged, () => {
    count++;
  });
  return count;
}

/** Whether a section sounds as an earlier one would after a plan. */
const isAsMeant = (tried: Section, before: Section, plan: Plan): boolean =>
  isSameInOrder(tried, before, plan) || sounds(tried) === sounds(before, plan);

/** The same row by row and note by note, which is quickly seen: few plans move a note to another place. */
const isSameInOrder = (tried: Section, { rows }: Section, { changed }: Plan): boolean =>
  (["lead", "right", "left", "bass"] as const).every((row) => {
    const { notes } = tried.rows[row];
    let next = 0;
    for (const note of rows[row].notes) {
      const midi = changed.has(note) ? changed.get(note) : note.pitch.midi;
      if (midi === undefined) continue;
      const now = notes[next++];
      if (now?.pitch.midi !== midi || !isEqual(now.at, note.at) || !isEqual(now.length, note.length))
        return false;
    }
    return next === notes.length;
  });

/** All that sounds in a section, after a plan if there is one: when, which key, and for how long. */
function sounds({ rows }: Section, plan?: Plan): string {
  const all: string[] = [];
  for (const { notes } of Object.values(rows)) {
    for (const note of notes) {
      const isChanged = plan?.changed.has(note) === true;
      const midi = isChanged ? plan?.changed.get(note) : note.pitch.midi;
      if (midi !== undefined) all.push(`${printFraction(note.at)} ${midi} ${printFraction(note.length)}`);
    }
  }
  return all.sort().join("\n");
}

const otherHand = (hand: Hand): Hand => (hand === "left" ? "right" : "left");
const names = (notes: readonly Note[]): readonly string[] => notes.map(({ pitch }) => prettyPitch(pitch));

/** Plans for a grip that can't be held: give tones away, roll it, leave a doubled tone out, turn it over. */
export function plansForGrip(unheld: UnheldGrip, all: readonly UnheldGrip[], judged: JudgedSection): Plans {
  const roll = [rolled(unheld, all, judged)];
  // A melody is nobody's chord.
  if (unheld.grips.some(({ slot }) => slot.row !== slot.hand)) return [roll];
  const fromOuterEnd = outerFirst(unheld);
  const [outer] = fromOuterEnd;
  return [
    [1, 2].map((count) => given(unheld, count, judged)),
    roll,
    fromOuterEnd.slice(0, -1).map((note) => leftOut(unheld, note, judged)),
    outer === undefined ? [] : [turnedOver(unheld, outer, judged)],
  ];
}

/** A left hand's tones from the top down, a right hand's from the bottom up: the last is its bass, or the top voice. */
const outerFirst = ({ hand, notes }: UnheldGrip): readonly Note[] =>
  hand === "left" ? [...notes].reverse() : notes;

/** At each time that the same text can't be held, under other chords too. */
function rolled(
  { grips }: UnheldGrip,
  all: readonly UnheldGrip[],
  { section }: JudgedSection,
): Plan | undefined {
  const starts = new Set(grips.map(({ slot }) => slot.span.start));
  const stacks = new Map<SlotEvent, string>();
  for (const { slot } of all.flatMap((it) => it.grips)) {
    if (!starts.has(slot.span.start)) continue;
    if (slot.rolled) return undefined;
    const text = sliceOf(section.source.text, slot.span);
    stacks.set(
      slot,
      text.replace(/^!?/, (push) => `${push}~`),
    );
  }
  return { way: { how: "roll" }, stacks, changed: new Map() };
}

/** So many tones at the other hand's side go over to it, where it strikes at the same moment for as long. */
function given(
  { hand, notes, grips }: UnheldGrip,
  count: number,
  { section, ...judged }: JudgedSection,
): Plan | undefined {
  const { text } = section.source;
  const to = otherHand(hand);
  const gone = hand === "left" ? notes.slice(-count) : notes.slice(0, count);
  const isGone = (midi: number): boolean => gone.some(({ pitch }) => pitch.midi === midi);
  const stacks = new Map<SlotEvent, string>();
  for (const { slot } of grips) {
    const receiver = strikingWith(section, slot, to);
    const [own, others] = [writtenTones(slot, text), receiver && writtenTones(receiver, text)];
    if (receiver === undefined || own === undefined || others === undefined) return undefined;
    const going = own.filter(({ midi }) => isGone(midi));
    const staying = own.filter(({ midi }) => !isGone(midi));
    const together = [...others, ...going];
    const isAsLong = going.every(
      ({ note, isHeld }) =>
        !isHeld && others.some((it) => !it.isHeld && isEqual(it.note.length, note.length)),
    );
    const isPlayable =
      isAsLong &&
      staying.length > 0 &&
      together.length <= mostKeys &&
      isHeld(keysOf(staying), hand, { section, ...judged }) &&
      isHeld(keysOf(together), to, { section, ...judged });
    const [left, came] = [restacked(slot, staying, text), restacked(receiver, together, text)];
    if (!isPlayable || left === undefined || came === undefined) return undefined;
    stacks.set(slot, left).set(receiver, came);
  }
  return { way: { how: "give", notes: names(gone), to }, stacks, changed: new Map() };
}

/** Two tones on one key are one for the hand. */
const keysOf = (tones: readonly WrittenTone[]): readonly number[] =>
  [...new Set(tones.map(({ midi }) => midi))].sort((a, b) => a - b);

/** The slot of the other hand's own row that is struck at the same moment and reads its numbers alike. */
const strikingWith = ({ rows }: Section, slot: SlotEvent, hand: Hand): SlotEvent | undefined =>
  rows[hand].slots.find(
    (it) =>
      it.bar === slot.bar &&
      it.pickup === slot.pickup &&
      isEqual(it.at, slot.at) &&
      it.kind === "stack" &&
      it.struck.length > 0 &&
      it.chord === slot.chord &&
      it.pushed === slot.pushed &&
      it.rolled === slot.rolled,
  );

/** A tone that sounds in another octave too is left out, with what slips into it. */
function leftOut({ hand, grips }: UnheldGrip, { pitch }: Note, judged: JudgedSection): Plan | undefined {
  const { section } = judged;
  const { text } = section.source;
  const stacks = new Map<SlotEvent, string>();
  const changed = new Map<Note, undefined>();
  for (const { slot, keys } of grips) {
    const tones = writtenTones(slot, text);
    const tone = tones?.find(({ midi }) => midi === pitch.midi);
    const rest = tones?.filter((it) => it !== tone) ?? [];
    const elsewhere = [...rest.map(({ midi }) => midi), ...otherKeysAt(section, slot)];
    const isDoubled = elsewhere.some((midi) => (midi - pitch.midi) % 12 === 0);
    const isLowest = elsewhere.every((midi) => midi > pitch.midi);
    const isPlayable =
      slot.rolled ||
      isHeld(
        keys.filter((key) => key !== pitch.midi),
        hand,
        judged,
      );
    const left = restacked(slot, rest, text);
    if (tone === undefined || tone.isHeld || !isDoubled || isLowest || !isPlayable || left === undefined)
      return undefined;
    stacks.set(slot, left);
    for (const note of withGrace(slot, tone.note)) changed.set(note, undefined);
  }
  return { way: { how: "leave-out", notes: [prettyPitch(pitch)], hand }, stacks, changed };
}

const withGrace = ({ struck }: SlotEvent, { tone }: Note): readonly Note[] =>
  struck.filter((note) => note.tone === tone);

/** The keys that other rows sound in a slot's bar at its moment. */
function otherKeysAt({ rows }: Section, { row, bar, pickup, at }: SlotEvent): readonly number[] {
  return Object.values(rows).flatMap(({ slots }) => {
    const sounding = slots.filter(
      (it) => it.row !== row && it.bar === bar && it.pickup === pickup && compare(it.at, at) <= 0,
    );
    const now = sounding.at(-1);
    if (now === undefined) return [];
    return [...now.held, ...now.struck].flatMap(({ grace, pitch }) => (grace ? [] : [pitch.midi]));
  });
}

/** The outer tone an octave further in. The lowest tone of all and the top voice stay. */
function turnedOver(
  { hand, notes, grips }: UnheldGrip,
  outer: Note,
  judged: JudgedSection,
): Plan | undefined {
  const to = hand === "left" ? "down" : "up";
  const key = outer.pitch.midi + (to === "up" ? 12 : -12);
  const [lowest = 0, highest = 0] = [notes[0]?.pitch.midi, notes.at(-1)?.pitch.midi];
  if (key <= lowest || key >= highest) return undefined;
  const isBass =
    hand === "right" &&
    grips.some(({ slot }) => otherKeysAt(judged.section, slot).every((midi) => midi > lowest));
  if (isBass) return undefined;
  return moved(
    grips.map(({ slot }) => slot),
    ({ midi }) => midi === outer.pitch.midi,
    to,
    { how: "move", notes: names([outer]), to },
    judged,
  );
}

/** Some tones of slots an octave up or down. */
function moved(
  slots: readonly SlotEvent[],
  isMoved: (tone: WrittenTone) => boolean,
  to: "up" | "down",
  way: Way,
  { section }: JudgedSection,
): Plan | undefined {
  const { text } = section.source;
  const by = to === "up" ? 12 : -12;
  const stacks = new Map<SlotEvent, string>();
  const changed = new Map<Note, number>();
  for (const slot of slots) {
    const tones = writtenTones(slot, text);
    const moving = tones?.filter(isMoved) ?? [];
    if (slot.row !== slot.hand || moving.length === 0 || moving.some((tone) => tone.isHeld)) return undefined;
    const after =
      tones?.map((tone) => (moving.includes(tone) ? { ...tone, midi: tone.midi + by } : tone)) ?? [];
    const written = restacked(slot, after, text);
    if (written === undefined) return undefined;
    stacks.set(slot, written);
    for (const tone of moving) {
      for (const note of withGrace(slot, tone.note)) changed.set(note, note.pitch.midi + by);
    }
  }
  return { way, stacks, changed };
}

/** Both hands at a moment at which they are in each other's way. */
export interface BothHands {
  readonly left: HandNow;
  readonly right: HandNow;
}

/** Plans for keys that both hands need: one hand leaves them out, moves them, or moves as a whole. */
export function plansForShared(
  moments: readonly BothHands[],
  keys: readonly number[],
  judged: JudgedSection,
): Plans {
  const isShared = ({ midi }: WrittenTone): boolean => keys.includes(midi);
  const shared = (moments[0] as BothHands).left.notes.filter(({ pitch }) => keys.includes(pitch.midi));
  return [
    moreTonesFirst(moments).map((hand) => sharedLeftOut(moments, shared, hand, judged)),
    ...farther(moments, isShared, isShared, names(shared), judged),
  ];
}

function moreTonesFirst([first]: readonly BothHands[]): readonly Hand[] {
  const isLeftFuller = (first?.left.notes.length ?? 0) > (first?.right.notes.length ?? 0);
  return isLeftFuller ? ["left", "right"] : ["right", "left"];
}

/** One hand leaves out what the other one sounds on the very same keys. */
function sharedLeftOut(
  moments: readonly BothHands[],
  shared: readonly Note[],
  hand: Hand,
  { section }: JudgedSection,
): Plan | undefined {
  const { text } = section.source;
  const stacks = new Map<SlotEvent, string>();
  const changed = new Map<Note, undefined>();
  const isShared = (midi: number): boolean => shared.some(({ pitch }) => pitch.midi === midi);
  for (const moment of moments) {
    const { slot, strikes } = moment[hand];
    const tones = writtenTones(slot, text);
    const gone = tones?.filter(({ midi }) => isShared(midi)) ?? [];
    const left = restacked(slot, tones?.filter(({ midi }) => !isShared(midi)) ?? [], text);
    // The tone must not get shorter by it.
    const isAsLong = gone.every(({ note, isHeld }) => !isHeld && lasts(moment[otherHand(hand)], note));
    if (!strikes || slot.row !== hand || gone.length === 0 || !isAsLong || left === undefined)
      return undefined;
    stacks.set(slot, left);
    for (const { note } of gone) for (const it of withGrace(slot, note)) changed.set(it, undefined);
  }
  return { way: { how: "leave-out", notes: names(shared), hand }, stacks, changed };
}

/** Whether a hand sounds a note's key from its start or before and as long. */
const lasts = ({ notes }: HandNow, note: Note): boolean =>
  notes.some((it) => it.pitch.midi === note.pitch.midi && compare(endOf(it), endOf(note)) >= 0);
const endOf = ({ at, length }: Note): Fraction => plus(at, length);

/** The right hand's tones in question an octave up, or the left hand's an octave down; else all of one hand. */
function farther(
  moments: readonly BothHands[],
  isLeftMoved: (tone: WrittenTone) => boolean,
  isRightMoved: (tone: WrittenTone) => boolean,
  notes: readonly string[] | { readonly left: readonly string[]; readonly right: readonly string[] },
  judged: JudgedSection,
): Plans {
  const all = (): boolean => true;
  const named = "left" in notes ? notes : { left: notes, right: notes };
  // Where a hand only goes on, it holds what it struck before.
  const slotsOf = (hand: Hand): readonly SlotEvent[] | undefined => {
    const striking = moments.filter((it) => it[hand].strikes);
    return striking.length === 0 ? undefined : [...new Set(striking.map((it) => it[hand].slot))];
  };
  const [left, right] = [slotsOf("left"), slotsOf("right")];
  return [
    [
      right && moved(right, isRightMoved, "up", { how: "move", notes: named.right, to: "up" }, judged),
      left && moved(left, isLeftMoved, "down", { how: "move", notes: named.left, to: "down" }, judged),
    ],
    [
      right && moved(right, all, "up", { how: "move-hand", hand: "right", to: "up" }, judged),
      left && moved(left, all, "down", { how: "move-hand", hand: "left", to: "down" }, judged),
    ],
  ];
}

/** Plans for hands that cross: share the same keys anew, move the tones that cross, or all of one hand. */
export function plansForCrossing(moments: readonly BothHands[], judged: JudgedSection): Plans {
  const [first] = moments;
  if (first === undefined) return [];
  const top = first.left.notes.at(-1)?.pitch.midi ?? 0;
  const bottom = first.right.notes[0]?.pitch.midi ?? 0;
  const isAbove = ({ midi }: WrittenTone): boolean => midi > bottom;
  const isBelow = ({ midi }: WrittenTone): boolean => midi < top;
  const crossing = {
    left: names(first.left.notes.filter(({ pitch }) => pitch.midi > bottom)),
    right: names(first.right.notes.filter(({ pitch }) => pitch.midi < top)),
  };
  return [[sharedAnew(moments, judged)], ...farther(moments, isAbove, isBelow, crossing, judged)];
}

/** The same keys at the same moments, the lower ones for the left hand. */
function sharedAnew(moments: readonly BothHands[], judged: JudgedSection): Plan | undefined {
  const { section } = judged;
  const { text } = section.source;
  const stacks = new Map<SlotEvent, string>();
  let way: Way | undefined;
  for (const { left, right } of moments) {
    const [low, high] = [writtenTones(left.slot, text), writtenTones(right.slot, text)];
    if (
      low === undefined ||
      high === undefined ||
      strikingWith(section, left.slot, "right") !== right.slot ||
      left.slot.row !== "left"
    )
      return undefined;
    const all = [...low, ...high].sort((a, b) => a.midi - b.midi);
    const [one] = all;
    const isAlike = all.every(
      ({ note, isHeld }) => !isHeld && one !== undefined && isEqual(note.length, one.note.length),
    );
    const [below, above] = [all.slice(0, low.length), all.slice(low.length)];
    const isPlayable = isHeld(keysOf(below), "left", judged) && isHeld(keysOf(above), "right", judged);
    const [newLow, newHigh] = [restacked(left.slot, below, text), restacked(right.slot, above, text)];
    if (!isAlike || !isPlayable || newLow === undefined || newHigh === undefined) return undefined;
    stacks.set(left.slot, newLow).set(right.slot, newHigh);
    way ??= {
      how: "share",
      left: names(below.map(({ note }) => note)),
      right: names(above.map(({ note }) => note)),
    };
  }
  return way && { way, stacks, changed: new Map() };
}
