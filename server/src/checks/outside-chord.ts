import type { Note, Section, SlotEvent } from "../chart/model.js";
import type { PlacedStack } from "../chart/stack.js";
import { isOnKeyboard } from "../keyboard/keyboard-range.js";
import type { Fix } from "../problems/problem.js";
import type { Edit } from "../text/edits.js";
import { shift, sliceOf } from "../text/span.js";
import { type Chord, prettyChord, toneInChord } from "../theory/chord.js";
import { nameOf, pitchClass, prettyName } from "../theory/note-name.js";
import { contradicts, type Quality } from "../theory/quality.js";
import { numberOf, prettyNumber, printNumber, type ToneNumber, upper } from "../theory/tone-number.js";
import type { JudgedSection, SectionCheck } from "./check.js";
import { isPassing } from "./passing-tones.js";
import { mendingTrial } from "./trial.js";
import { timesOf, writtenOut } from "./written-out.js";

/** A tone struck by a hand that contradicts the symbol of its chord. What is held over is a suspension, and free. */
export const outsideChord: SectionCheck<"outside-chord"> = {
  code: "outside-chord",
  run(judged, report) {
    const isMended = mending(judged);
    for (const found of contradictions(judged.section)) {
      const { slot, note, chord, number } = found;
      const instead = insteadOf(number, chord.quality);
      const facts = {
        number: prettyNumber(instead !== undefined && instead.number > 7 ? upper(number) : number),
        note: prettyName(note.pitch.fifths),
        row: found.row,
        chord: prettyChord(chord),
        suspended: isSuspended(chord.quality),
        ...(instead && { instead: named(instead, chord) }),
      };
      const edits = instead && editsFor(judged.section, slot, note);
      const fixes: readonly Fix[] =
        edits === undefined || !isMended(slot, edits)
          ? []
          : [{ title: titleOf(named(instead as ToneNumber, chord)), edits, silent: false }];
      report(note.span, facts, { row: found.row, fixes });
    }
  },
};

const titleOf = ({ number, note }: { readonly number: string; readonly note: string }): string =>
  `Play the ${number} (${note})`;

/** A written tone where it first contradicts its chord, with its number there. */
interface Contradiction {
  readonly row: "right" | "left";
  readonly slot: SlotEvent;
  readonly note: Note;
  readonly chord: Chord;
  readonly number: ToneNumber;
}

function contradictions(section: Section): readonly Contradiction[] {
  const found: Contradiction[] = [];
  for (const row of ["right", "left"] as const) {
    const told = new Set<number>();
    for (const slot of section.rows[row].slots) {
      const chord = slot.chord?.chord;
      if (chord === undefined || slot.placed === undefined || isWithin(slot.placed, chord)) continue;
      for (const note of slot.struck) {
        const number = note.grace ? undefined : contradicting(note, chord);
        if (number === undefined || told.has(note.span.start) || isPassing(note, section)) continue;
        told.add(note.span.start);
        found.push({ row, slot, note, chord, number });
      }
    }
  }
  return found;
}

/** Stacks that were judged, each under the chord that it was judged under last. */
const judged = new WeakMap<PlacedStack, { readonly chord: Chord; readonly isWithin: boolean }>();

/** Whether no tone of a stack contradicts a chord. */
function isWithin(placed: PlacedStack, chord: Chord): boolean {
  const before = judged.get(placed);
  if (before?.chord === chord) return before.isWithin;
  const isWithin = placed.tones.every((it) => contradicting(it, chord) === undefined);
  judged.set(placed, { chord, isWithin });
  return isWithin;
}

type NamedNote = Pick<Note, "tone" | "pitch">;

/** A note's number in a chord that it contradicts; `undefined` where it doesn't. */
function contradicting(note: NamedNote, chord: Chord): ToneNumber | undefined {
  const number = numberIn(note, chord);
  if (number === undefined || !contradicts(chord.quality, number)) return undefined;
  return isBass(note.pitch.fifths, chord) ? undefined : number;
}

/**
 * The chord's own tone at each time that the slot's text sounds and contradicts; where it fits it stays as it is.
 * `undefined` where one of them can't be mended so.
 */
function editsFor(section: Section, slot: SlotEvent, note: Note): readonly Edit[] | undefined {
  const old = sliceOf(section.source.text, slot.span);
  let isLost = false;
  const edits = writtenOut(section, slot, (time) => {
    const chord = time.chord?.chord;
    const there = time.struck.find((it) => !it.grace && it.span.start === note.span.start);
    const number = there && chord && contradicting(there, chord);
    if (there === undefined || chord === undefined || number === undefined) return old;
    const instead = insteadOf(number, chord.quality);
    const name = instead && !isDoubled(time, instead, chord) ? nameFor(there, instead, chord) : undefined;
    isLost ||= name === undefined;
    const { start, end } = shift(
      there.tone.nameSpan,
      there.span.start - there.tone.span.start - slot.span.start,
    );
    return name === undefined ? old : old.slice(0, start) + name + old.slice(end);
  });
  return isLost ? undefined : edits;
}

const isDoubled = ({ struck }: SlotEvent, number: ToneNumber, chord: Chord): boolean =>
  struck.some(({ pitch }) => pitchClass(pitch.fifths) === pitchClass(toneInChord(chord, number)));

/** The name to write in place of a note's; `undefined` where it says more than a tone of the chord. */
function nameFor({ tone: { name, counts } }: Note, instead: ToneNumber, chord: Chord): string | undefined {
  if (counts === "key") return undefined;
  if (name.kind === "number") return printNumber(instead);
  return name.octave === undefined ? nameOf(toneInChord(chord, instead)) : undefined;
}

/** Half steps that the tones above another may move by when it moves. */
const octave = 12;

/**
 * Whether edits of a slot leave fewer such tones in the section, no error more and no tone without what it holds.
 * They are tried; one tone that sounds once, away from the keyboard's ends and from the other hand, and that no stack
 * holds on to needs no trial.
 */
function mending(judged: JudgedSection): (slot: SlotEvent, edits: readonly Edit[]) => boolean {
  const { section, played } = judged;
  const moves = played.map(({ halfSteps }) => halfSteps);
  const isMended = mendingTrial(judged, (it) => contradictions(it).length);
  const isHeldInStack = ({ struck }: SlotEvent): boolean =>
    struck.some(({ heldBy }) => heldBy.some(({ text }) => text !== "-"));
  const isFarIn = ({ struck }: SlotEvent): boolean =>
    struck.every(({ pitch: { midi } }) =>
      moves.every((by) => isOnKeyboard(midi + by - octave) && isOnKeyboard(midi + by + octave)),
    );
  const isAlone = (slot: SlotEvent): boolean =>
    timesOf(section, slot).length === 1 &&
    isFarIn(slot) &&
    !isHeldInStack(slot) &&
    isFarFromOthers(slot, section);
  return (slot, edits) => isAlone(slot) || isMended(edits);
}

/** Whether a slot has one tone, an octave from where the other hand comes in the section. */
function isFarFromOthers({ hand, struck, held }: SlotEvent, { rows }: Section): boolean {
  const [note, second] = [...struck, ...held];
  if (note === undefined || second !== undefined) return false;
  const { midi } = note.pitch;
  if (hand === "right") return midi - octave > Math.max(rows.left.highest, rows.bass.highest);
  return midi + octave < Math.min(rows.right.lowest, rows.lead.lowest);
}

/** The bass after the slash may stand against the chord above it. */
const isBass = (fifths: number, { bass }: Chord): boolean =>
  bass !== undefined && pitchClass(fifths) === pitchClass(bass);

const named = (number: ToneNumber, chord: Chord) => ({
  number: prettyNumber(number),
  note: prettyName(toneInChord(chord, number)),
});

/** The number as it is written over the chord; of a letter or a number of the key, as it comes out there. */
export function numberIn({ tone, pitch }: NamedNote, chord: Chord): ToneNumber | undefined {
  const { name, counts } = tone;
  if (name.kind === "number" && name.number === 0) return undefined;
  return name.kind === "number" && counts !== "key" ? name : numberOf(chord.root, pitch.fifths);
}

const isSuspended = ({ tones }: Quality): boolean =>
  tones.some(({ number }) => number === 4 || number === 2) && !tones.some(({ number }) => number === 3);

/** What the chord has in place of a tone: its own of that number, or the suspension in place of the third. */
function insteadOf(wanted: ToneNumber, { tones }: Quality): ToneNumber | undefined {
  const own = (number: number): ToneNumber | undefined => tones.find((tone) => tone.number === number);
  const alike = own(wanted.number) ?? own(upper(wanted).number);
  if (alike !== undefined || wanted.number !== 3) return alike;
  return own(4) ?? own(2);
}
