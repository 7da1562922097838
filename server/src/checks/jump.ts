import type { Note, SlotEvent } from "../chart/model.js";
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
    const highestLeft = Math.max(section.rows.left.highest, section.rows.bass.highest);
    for (const row of ["lead", "right"] as const) {
      let before: SlotEvent | undefined;
      let beforeEndings: SlotEvent | undefined;
      let bar = -1;
      for (const slot of section.rows[row].slots) {
        const ending = slot.bar === bar ? undefined : section.bars[slot.bar]?.repeat.ending;
        bar = slot.bar;
        if (ending === 1) beforeEndings = before;
        else if (ending === 2) before = beforeEndings;
        if (slot.kind === "hold") continue;
        const from = before === undefined || compare(before.at, slot.at) >= 0 ? undefined : topOf(before);
        before = slot.kind === "stack" ? slot : undefined;
        const to = topOf(slot);
        const lowest = slot.struck.find(({ grace }) => !grace);
        if (from === undefined || to === undefined || lowest === undefined || !isFree(slot, lowest)) continue;
        const leap = to.midi - from.midi;
        if (Math.abs(leap) < leastLeap) continue;
        const sign = leap > 0 ? "<" : ">";
        const nearer = { ...to, midi: to.midi - 12 * Math.sign(leap) };
        // The text may sound elsewhere too, by = or %.
        const times = timesOf(section, slot);
        if (!times.every((time) => !isHeldOn(time) && isPlayable(time, -12 * Math.sign(leap), judged)))
          continue;
        const edits = [octaveEdit(lowest, -Math.sign(leap))];
        const isNear = lowest.pitch.midi - 12 * Math.sign(leap) <= highestLeft;
        if ((mayHold || isNear) && !isHandy(edits)) continue;
        const fixes = [{ title: `Write ${sign}`, edits, silent: false }];
        const facts = {
          row,
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
  const end = plus(at, length);
  const isInTheWay = (note: Note): boolean =>
    note.pitch.midi >= lowest &&
    (note.bar === bar || (compare(note.at, end) < 0 && compare(plus(note.at, note.length), at) > 0));
  return (
    !section.rows.left.notes.some(isInTheWay) &&
    !section.rows.bass.notes.some((it) => it.hand === "left" && isInTheWay(it))
  );
}

/** The highest key that a slot strikes. */
function topOf({ struck }: SlotEvent): Pitch | undefined {
  let top: Pitch | undefined;
  for (const { grace, pitch } of struck)
    if (!grace && (top === undefined || pitch.midi > top.midi)) top = pitch;
  return top;
}

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
  struck.every(({ tone: { name } }) => name.kind === "number" || name.octave === undefined);
