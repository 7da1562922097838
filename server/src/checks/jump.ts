import type { Note, Section, SlotEvent } from "../chart/model.js";
import type { PlacedTone } from "../chart/stack.js";
import { isOnKeyboard } from "../keyboard/keyboard-range.js";
import { compare, type Fraction, plus } from "../theory/fraction.js";
import { type Pitch, prettyPitch } from "../theory/pitch.js";
import type { JudgedSection, SectionCheck } from "./check.js";
import { isUnclear } from "./low-interval.js";
import { octaveEdit } from "./octave-edit.js";
import { handsErr, handsTrial } from "./trial.js";
import { timesOf } from "./written-out.js";

/** Half steps of a minor sixth: the smallest leap that is told. */
const leastLeap = 8;

/** A leap of the melody, or of the right hand's top, where the same tone lay nearer an octave away. */
export const jump: SectionCheck<"jump"> = {
  code: "jump",
  run(judged, report) {
    const { section } = judged;
    // Where a _ holds on, a tone that moves may be found by it, or lost.
    const mayHold = section.source.text.includes("_");
    const isHandy = handsTrial(judged);
    for (const row of ["lead", "right"] as const) {
      if (section.rows[row].highest - section.rows[row].lowest < leastLeap) continue;
      for (const { slot, last } of movesOf(section, row)) {
        if (compare(last.last.at, slot.at) >= 0) continue;
        const moved = moveInto(slot, last);
        if (moved === undefined) continue;
        const { from, to, isTop } = moved;
        const leap = to.midi - from.midi;
        if (Math.abs(leap) < leastLeap || (isSixthUp(leap) && isPlacedUpbeat(last, slot, section))) continue;
        const lowest = slot.struck.find(({ grace }) => !grace);
        if (lowest === undefined || !isFree(slot, lowest)) continue;
        const sign = leap > 0 ? "<" : ">";
        const nearer = { ...to, midi: to.midi - 12 * Math.sign(leap) };
        // The text may sound elsewhere too, by = or %.
        const times = timesOf(section, slot);
        if (!times.every((time) => !isHeldOn(time) && isPlayable(time, -12 * Math.sign(leap), judged)))
          continue;
        const edits = [octaveEdit(lowest, -Math.sign(leap))];
        // What no hand plays asks nothing of one.
        const mayBeHard =
          slot.hand !== undefined &&
          (mayHold || !times.every((it) => isApart(it, nearer.midi - to.midi, judged)));
        if (mayBeHard && !isHandy(edits)) continue;
        const fixes = [{ title: `Write ${sign}`, edits, silent: false }];
        const facts = {
          part: row === "lead" ? "melody" : isTop ? "top" : "hand",
          from: prettyPitch(from),
          to: prettyPitch(to),
          nearer: prettyPitch(nearer),
          sign,
        } as const;
        report(slot.span, facts, { row, fixes });
      }
    }
  },
};

/** The highest key that the left hand or the bass strikes, a MIDI number. */
const highestLeft = ({ rows: { left, bass } }: Section): number => Math.max(left.highest, bass.highest);

/** Whether the stack moved so far stays on the keyboard, clear, and above what the left hand strikes in its bar. */
function isPlayable(slot: SlotEvent, by: number, { section, played }: JudgedSection): boolean {
  const keys = slot.struck
    .filter(({ grace }) => !grace)
    .map(({ pitch }) => pitch.midi + by)
    .sort((a, b) => a - b);
  const isClear = keys.every((key, i) => i === 0 || !isUnclear(keys[i - 1] as number, key));
  const isOn = (key: number): boolean => played.every(({ halfSteps }) => isOnKeyboard(key + halfSteps));
  if (!isClear || !keys.every(isOn)) return false;
  const lowest = keys[0] ?? 0;
  if ((slot.hand !== "right" && slot.row !== "right") || lowest > highestLeft(section)) return true;
  return leftNotesFrom(lowest, section).every((it) => isElsewhere(it, slot, plus(slot.at, slot.length)));
}

/** Whether a note sounds neither in the bar of a slot nor from its start to `end`. */
const isElsewhere = ({ bar, at, length }: Note, slot: SlotEvent, end: Fraction): boolean =>
  bar !== slot.bar && (compare(at, end) >= 0 || compare(plus(at, length), slot.at) <= 0);

/** What the left hand strikes from a key upwards. */
const leftNotesFrom = (key: number, { rows: { left, bass } }: Section): readonly Note[] =>
  [left, bass].flatMap(({ slots }) =>
    slots
      .filter(({ hand, placed }) => hand === "left" && placed?.tones.some((it) => reaches(it, key)))
      .flatMap(({ struck }) => struck.filter(({ pitch }) => pitch.midi >= key)),
  );

const reaches = ({ pitch, grace }: PlacedTone, key: number): boolean =>
  pitch.midi >= key || (grace !== undefined && grace.midi >= key);

/**
 * Whether it plainly asks no more of the hands when a stack is moved so far, so that nothing need be tried: its grip
 * keeps its shape, and all that the left hand has down by then lies below it. `false` where that isn't plain.
 */
function isApart(slot: SlotEvent, by: number, judged: JudgedSection): boolean {
  const { section } = judged;
  const lowest = (slot.placed?.lowest?.midi ?? Number.NEGATIVE_INFINITY) + by;
  if (lowest > highestLeft(section)) return true;
  // Where a repeat goes back, what is held goes on at another time.
  const isWithoutRepeats = !section.bars.some(({ repeat }) => repeat.end);
  if (slot.hand !== "right" || !isWithoutRepeats || handsErr(judged)) return false;
  const end = plus(slot.at, slot.lasts);
  return leftNotesFrom(lowest, section).every((it) => isElsewhere(it, slot, end));
}

/** What a row has struck last, with no rest since, and what it struck before that. */
interface Before {
  readonly last: SlotEvent;
  /** The last one with a single tone where `last` is a stack, and the other way round. */
  readonly unlike: SlotEvent | undefined;
  readonly isFirst: boolean;
}

/** Each stack of a row with what comes before it, but for those that plainly lie near it. */
function movesOf({ rows, bars }: Section, row: "lead" | "right"): readonly SlotMove[] {
  const moves: SlotMove[] = [];
  const { slots } = rows[row];
  let last: SlotEvent | undefined;
  let unlike: SlotEvent | undefined;
  let isFirst = true;
  let beforeEndings: Before | undefined;
  let bar = -1;
  for (let i = 0; i < slots.length; i++) {
    const slot = slots[i] as SlotEvent;
    if (slot.bar !== bar) {
      bar = slot.bar;
      const ending = bars[bar]?.repeat.ending;
      if (ending === 1) beforeEndings = last && { last, unlike, isFirst };
      else if (ending === 2) {
        last = beforeEndings?.last;
        unlike = beforeEndings?.unlike;
        isFirst = beforeEndings?.isFirst ?? true;
      }
    }
    if (slot.kind === "hold") continue;
    if (slot.kind !== "stack") {
      last = undefined;
      continue;
    }
    if (last === undefined) {
      unlike = undefined;
      isFirst = true;
    } else {
      if (!isNearby(last, slot)) moves.push({ slot, last: { last, unlike, isFirst } });
      if (isStack(last) !== isStack(slot)) unlike = last;
      isFirst = false;
    }
    last = slot;
  }
  return moves;
}

interface SlotMove {
  readonly slot: SlotEvent;
  readonly last: Before;
}

interface Move {
  readonly from: Pitch;
  readonly to: Pitch;
  /** From the top of a slot to the top of the next one. */
  readonly isTop: boolean;
}

/**
 * How a row moves into a slot: from top to top. A single tone and a stack are no line, so between them the tones that
 * lie nearest count, and nothing that lies near the last one of its own kind, as where a hand rocks between the two.
 */
function moveInto(slot: SlotEvent, { last, unlike }: Before): Move | undefined {
  const [there, here] = [endsOf(last), endsOf(slot)];
  if (there === undefined || here === undefined) return undefined;
  if (isStack(last) === isStack(slot)) return { from: there.top, to: here.top, isTop: true };
  const like = unlike && endsOf(unlike);
  if (like !== undefined && Math.abs(here.top.midi - like.top.midi) < leastLeap) return undefined;
  if (here.lowest.midi > there.top.midi) return { from: there.top, to: here.lowest, isTop: false };
  if (here.top.midi < there.lowest.midi) return { from: there.lowest, to: here.top, isTop: false };
  return undefined;
}

/** Whether the tops of two slots of a kind lie near each other, by one look. */
function isNearby(before: SlotEvent, slot: SlotEvent): boolean {
  const there = before.placed;
  const here = slot.placed;
  if (there?.highest === undefined || here?.highest === undefined || there.holds || here.holds) return false;
  const isOfAKind = there.tones.length > 1 === here.tones.length > 1;
  return isOfAKind && Math.abs(here.highest.midi - there.highest.midi) < leastLeap;
}

const isStack = ({ placed }: SlotEvent): boolean => (placed?.tones.length ?? 0) > 1;

/** The lowest and the highest key that a slot strikes. */
function endsOf(slot: SlotEvent): { readonly lowest: Pitch; readonly top: Pitch } | undefined {
  if (slot.held.length === 0) {
    const { lowest, highest } = slot.placed ?? {};
    return lowest && highest && { lowest, top: highest };
  }
  let [lowest, top]: (Pitch | undefined)[] = [];
  for (const { grace, pitch } of slot.struck) {
    if (grace) continue;
    if (lowest === undefined || pitch.midi < lowest.midi) lowest = pitch;
    if (top === undefined || pitch.midi > top.midi) top = pitch;
  }
  return lowest && top && { lowest, top };
}

const isSixthUp = (leap: number): boolean => leap === 8 || leap === 9;

/**
 * Whether a slot is the first in its bar, and what came before it a pickup or an upbeat after a rest, of which
 * somebody has said where it sounds: from there into a bar a sixth up is meant (common practice, no source).
 */
function isPlacedUpbeat({ last, isFirst }: Before, slot: SlotEvent, { bars }: Section): boolean {
  const at = bars[slot.bar]?.at;
  return (
    (last.pickup || (isFirst && last.bar !== slot.bar)) &&
    at !== undefined &&
    compare(slot.at, at) === 0 &&
    (last.groupOctaves !== 0 ||
      last.struck.some(({ tone: { octaves, name } }) => octaves !== 0 || hasOctave(name)))
  );
}

const hasOctave = (name: Note["tone"]["name"]): boolean =>
  name.kind !== "number" && name.octave !== undefined;

/** Whether a later stack holds on to a tone of it, and would be left behind. */
const isHeldOn = ({ struck }: SlotEvent): boolean =>
  struck.some(({ heldBy }) => heldBy.some(({ text }) => text !== "-"));

/** Nobody has said where it sounds: no sign, no exact pitch, nothing held that it would leave behind. */
const isFree = ({ held, groupOctaves, struck, repeatedBy }: SlotEvent, { tone }: Note): boolean =>
  held.length === 0 &&
  groupOctaves === 0 &&
  repeatedBy === undefined &&
  tone.octaves === 0 &&
  tone.held === undefined &&
  !struck.some(({ tone: { name } }) => hasOctave(name));
