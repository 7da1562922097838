import type { Note, Section, SlotEvent } from "../chart/model.js";
import { isOnKeyboard } from "../keyboard/keyboard-range.js";
import { compare, plus } from "../theory/fraction.js";
import { type Pitch, prettyPitch } from "../theory/pitch.js";
import type { JudgedSection, SectionCheck } from "./check.js";
import { isUnclear } from "./low-interval.js";
import { octaveEdit } from "./octave-edit.js";
import { handsTrial } from "./trial.js";
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
      let before: Before | undefined;
      let beforeEndings: Before | undefined;
      let bar = -1;
      for (const slot of section.rows[row].slots) {
        const ending = slot.bar === bar ? undefined : section.bars[slot.bar]?.repeat.ending;
        bar = slot.bar;
        if (ending === 1) beforeEndings = before;
        else if (ending === 2) before = beforeEndings;
        if (slot.kind === "hold") continue;
        const last = before;
        before = slot.kind === "stack" ? after(last, slot) : undefined;
        if (last === undefined || compare(last.last.at, slot.at) >= 0) continue;
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
        const isNear = lowest.pitch.midi - 12 * Math.sign(leap) <= highestLeft(section);
        // What no hand plays asks nothing of one.
        if (slot.hand !== undefined && (mayHold || isNear) && !isHandy(edits)) continue;
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
function isPlayable(
  { struck, row, hand, bar, at, length }: SlotEvent,
  by: number,
  { section, played }: JudgedSection,
): boolean {
  const keys = struck
    .filter(({ grace }) => !grace)
    .map(({ pitch }) => pitch.midi + by)
    .sort((a, b) => a - b);
  const isClear = keys.every((key, i) => i === 0 || !isUnclear(keys[i - 1] as number, key));
  const isOn = (key: number): boolean => played.every(({ halfSteps }) => isOnKeyboard(key + halfSteps));
  if (!isClear || !keys.every(isOn)) return false;
  const lowest = keys[0] ?? 0;
  if (hand !== "right" && row !== "right") return true;
  if (lowest > highestLeft(section)) return true;
  const end = plus(at, length);
  const isInTheWay = (note: Note): boolean =>
    note.pitch.midi >= lowest &&
    (note.bar === bar || (compare(note.at, end) < 0 && compare(plus(note.at, note.length), at) > 0));
  return (
    !section.rows.left.notes.some(isInTheWay) &&
    !section.rows.bass.notes.some((it) => it.hand === "left" && isInTheWay(it))
  );
}

/** What a row has struck last, with no rest since, and what it struck before that. */
interface Before {
  readonly last: SlotEvent;
  /** The last one with a single tone where `last` is a stack, and the other way round. */
  readonly unlike: SlotEvent | undefined;
  readonly isFirst: boolean;
}

function after(before: Before | undefined, slot: SlotEvent): Before {
  if (before === undefined) return { last: slot, unlike: undefined, isFirst: true };
  const { last, unlike } = before;
  return { last: slot, unlike: isStack(last) === isStack(slot) ? unlike : last, isFirst: false };
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
