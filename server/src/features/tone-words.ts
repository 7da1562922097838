/**
 * What a player is told of a tone, a stack, or a sign among them. Completion documents a tone with `toneDetail` (any
 * tone over a chord, in one line) and names it with `toneRole` (tone-names.ts).
 */
import type { BarPlace, LocatedAs, NoteSlot } from "../chart/located.js";
import type { Chart, ChordEvent, Note, SlotEvent } from "../chart/model.js";
import { numberInChord } from "../chart/number-in-chord.js";
import type { Document } from "../document/document.js";
import type { Hand } from "../keyboard/hand.js";
import type { PitchedRow } from "../syntax/tree.js";
import { andList } from "../text/and-list.js";
import { sliceOf } from "../text/span.js";
import { type Chord, chordNumber, prettyChord } from "../theory/chord.js";
import { type Fraction, isEqual } from "../theory/fraction.js";
import { degreeInKey, type Key } from "../theory/key.js";
import { prettyName, prettyStrict } from "../theory/note-name.js";
import { octaveOf, type Pitch, prettyPitch } from "../theory/pitch.js";
import { prettyNumber, type ToneNumber } from "../theory/tone-number.js";
import { doesWords } from "./chord-words.js";
import { handBlocks } from "./hand-hover.js";
import { type Block, type HoverText, linesOf, saying } from "./hover-text.js";
import {
  beatsWords,
  chordNow,
  type Moment,
  notesOf,
  placeWords,
  type SoundingNow,
  type SoundingRow,
  soundingAt,
  wordsNow,
} from "./moment.js";
import { isOwn, toneRole } from "./tone-names.js";
import { whyBlocks } from "./why-words.js";

/**
 * Any tone over a chord: `F4, the ♭7 of G7 (the 4 of the key)`, with its octave where it is a pitch. `first` is what its
 * row counts from, which is said first: `F4, the 4 of the key (the ♭7 of G7)`.
 */
export function toneDetail(
  tone: Pitch | number,
  chord: Chord | undefined,
  key: Key,
  { as, first = "chord" }: { readonly as?: ToneNumber | undefined; readonly first?: "chord" | "key" } = {},
): string {
  const fifths = typeof tone === "number" ? tone : tone.fifths;
  const name = typeof tone === "number" ? prettyName(tone) : prettyPitch(tone);
  const inKey = `the ${prettyNumber(degreeInKey(key, fifths))} of the key`;
  if (chord === undefined) return `${name}, ${inKey}`;
  const inChord = `the ${prettyNumber(as ?? chordNumber(chord, fifths))} of ${prettyChord(chord)}`;
  return first === "chord" ? `${name}, ${inChord} (${inKey})` : `${name}, ${inKey} (${inChord})`;
}

/** What the numbers of a row count from where nothing else is said. */
const countsFrom = (row: PitchedRow): "chord" | "key" => (row === "lead" || row === "bass" ? "key" : "chord");

/** A tone or grace tone. */
export function toneWords(document: Document, place: LocatedAs<"tone" | "grace">): HoverText {
  const { note, event, kind, line, slot, tone } = place;
  if (note === undefined || event === undefined) {
    const written = sliceOf(line.text, {
      start: slot.span.start + tone.span.start,
      end: slot.span.start + tone.span.end,
    });
    return silentWords(place, written);
  }
  const moment = momentOf(place, event);
  const chord = chordOf(moment, event);
  const number = chord === undefined ? undefined : numberInChord(chord.chord, note);
  const first = countsFrom(note.row);
  const detail = toneDetail(note.pitch, chord?.chord, note.key, { as: number, first });
  return [
    { kind: "title", text: `${detail} · ${whose(note.row, note.hand)}` },
    ...linesOf([
      [roleWords(note, chord, number), chordWordsOf(document.chart, place, chord)]
        .filter((it) => it !== "")
        .join(" "),
      strictWords(note.pitch),
      kind === "grace" ? "A grace note: it slips into the next tone on the beat." : undefined,
      ...holdWords(note, event, chord, moment),
    ]),
    ...handBlocks(document, place.placed, event, note),
    ...soundingBlocks(moment, chord, 1),
    ...placeBlock(moment, event.held.includes(note) || note.grace ? event.length : note.length),
    ...whyBlocks(document, place),
  ];
}

/** What a tone is to its chord; of a melody or bass tone, which goes its own way, only where the chord has it. */
function roleWords(note: Note, chord: ChordEvent | undefined, number: ToneNumber | undefined): string {
  if (chord === undefined || number === undefined) return "";
  const { quality } = chord.chord;
  const isFree = countsFrom(note.row) === "key" || note.grace;
  return isFree && !isOwn(quality, number) ? "" : `${capital(toneRole(quality, number))}.`;
}

/** A whole stack. */
export function stackWords(document: Document, place: LocatedAs<"stack">): HoverText {
  const { event, line, slot } = place;
  if (event === undefined || (event.struck.length === 0 && event.held.length === 0)) {
    return silentWords(place, sliceOf(line.text, slot.span));
  }
  return slotWords(document, place, event, []);
}

/** A sign that is a slot: `-`, `=`, `%`, `r`, `NC`. */
export function noteSignWords(document: Document, place: LocatedAs<"note-sign">): HoverText {
  const { sign, event, events } = place;
  const row = whose(place.row.line.row as PitchedRow, event?.hand);
  if (sign === "r" || sign === "NC") {
    const moment = event === undefined ? undefined : momentOf(place, event);
    return [
      ...saying(`Rest · ${row}`, moment === undefined ? "" : `${capital(placeWords(moment))}.`),
      ...(moment === undefined ? [] : soundingBlocks(moment, chordNow(moment))),
    ];
  }
  if (sign === "%") {
    if (events.every(({ struck, held }) => struck.length + held.length === 0)) {
      return saying(`The bar before once more · ${row}`, "Nothing sounds in it.");
    }
    return [
      { kind: "title", text: `The bar before once more · ${row}` },
      ...linesOf(["Its numbers follow the chords of this bar."]),
      { kind: "list", items: events.slice(0, mostSlots).map((slot) => slotLine(place, slot)) },
    ];
  }
  if (event === undefined || notesOf(event).length === 0) {
    return sign === "="
      ? saying(`The slot before, struck again · ${row}`, "There is nothing here that it could strike again.")
      : saying(`Goes on · ${row}`, "Nothing sounds here: a rest goes on.");
  }
  return slotWords(document, place, event, [
    ...(sign === "=" ? ["= strikes the slot before once more; its numbers follow the chord here."] : []),
  ]);
}

/** Tones that are named at most: twice what ten fingers hold. */
const mostTones = 20;
const listed = (words: readonly string[]): string =>
  [...words.slice(0, mostTones), ...(words.length > mostTones ? ["…"] : [])].join(" ");

/** Slots that a `%` lists at most: more than any bar that is played by hand. */
const mostSlots = 32;

function slotWords(
  document: Document,
  place: NoteSlot,
  event: SlotEvent,
  more: readonly string[],
): HoverText {
  const moment = momentOf(place, event);
  const chord = chordOf(moment, event);
  const notes = notesOf(event);
  const isHeld = event.kind === "hold";
  const names = listed(notes.map(({ note }) => prettyPitch(note.pitch)));
  const inKey = `${keyNumbers(notes)} of the key`;
  const inChord = chord && `${numbersIn(notes, chord)} of ${prettyChord(chord.chord)}`;
  const [first, second] = countsFrom(event.row) === "key" ? [inKey, inChord] : [inChord, inKey];
  const numbers = first === undefined || second === undefined ? inKey : `${first} (${second})`;
  const how = `${isHeld ? ", held" : ""}${event.pushed ? ", pushed" : ""}${event.rolled ? ", rolled" : ""}`;
  return [
    {
      kind: "title",
      text: `${names}${how}: ${numbers} · ${whose(event.row, event.hand)}`,
    },
    ...linesOf([
      ...more,
      event.pushed ? pushedWords : undefined,
      ...graceLines(event),
      chordWordsOf(document.chart, place, chord),
    ]),
    ...handBlocks(document, place.placed, event),
    ...soundingBlocks(moment, chord, notes.length),
    ...placeBlock(moment, lengthOf(event)),
    ...whyBlocks(document, place),
  ];
}

/** `B♭3 slips into B3.` */
function graceLines({ struck }: SlotEvent): string[] {
  return struck
    .flatMap((note, i) => {
      const into = struck[i + 1];
      return note.grace && into !== undefined
        ? [`${prettyPitch(note.pitch)} slips into ${prettyPitch(into.pitch)}.`]
        : [];
    })
    .slice(0, mostTones);
}

/** How long a slot's tones last: where they are struck and held alike all their time, else the slot's. */
function lengthOf({ struck, held, length }: SlotEvent): Fraction {
  const [first, ...others] = struck.filter(({ grace }) => !grace);
  const isAlike =
    held.length === 0 && others.every((it) => first !== undefined && isEqual(it.length, first.length));
  return isAlike && first !== undefined ? first.length : length;
}

const pushedWords = "Pushed: played early, and its numbers count from the next chord.";

/** Why nothing sounds of what is written. */
function silentWords({ row, bar, at }: NoteSlot, written: string): HoverText {
  if (bar === undefined || at === undefined) {
    return saying(
      `${written}: too short to be counted`,
      "This bar has so many slots that it counts as empty.",
    );
  }
  return saying(
    `${written} doesn't sound · ${whose(row.line.row as PitchedRow, undefined)}`,
    "There is no chord here that the number could count from. Write a chord above it, a k before the number to count from the key, or a letter.",
  );
}

const momentOf = ({ placed, bar, system }: BarPlace, { at, pickup }: SlotEvent): Moment => ({
  placed,
  bar: bar ?? (placed.section.bars[system.firstBar] as Moment["bar"]),
  pickup,
  at,
});

/** What the numbers of a slot are told from: the chord that they count from, else the one that sounds. */
const chordOf = (moment: Moment, slot: SlotEvent): ChordEvent | undefined => slot.chord ?? chordNow(moment);

function strictWords(pitch: Pitch): string | undefined {
  if (prettyStrict(pitch.fifths) === prettyName(pitch.fifths)) return undefined;
  return `Strictly spelled ${prettyStrict(pitch.fifths)}${octaveOf(pitch)}.`;
}

function holdWords(
  note: Note,
  slot: SlotEvent,
  chord: ChordEvent | undefined,
  moment: Moment,
): (string | undefined)[] {
  const isHeld = slot.held.includes(note);
  const struckOver = note.chord;
  const before =
    struckOver === undefined || chord === undefined || struckOver === chord
      ? ""
      : `, where it was the ${prettyNumber(numberInChord(struckOver.chord, note))} of ${prettyChord(struckOver.chord)}`;
  const from = {
    ...moment,
    bar: moment.placed.section.bars[note.bar] ?? moment.bar,
    pickup: note.pickup,
    at: note.at,
  };
  return [
    isHeld ? `Held from ${placeWords(from)}${before}.` : undefined,
    !isHeld && note.pushed ? pushedWords : undefined,
    !isHeld && note.rolled ? "Rolled from the bottom up." : undefined,
  ];
}

/** What the chord does, in a sentence; empty where none sounds. */
const chordWordsOf = (chart: Chart, { placed }: BarPlace, chord: ChordEvent | undefined): string =>
  chord === undefined ? "" : `${doesWords(chart, placed, chord)}.`;

/** What all rows sound at a moment, with numbers; where that is no more than the tones said already, nothing. */
export function soundingBlocks(moment: Moment, chord: ChordEvent | undefined, said = 0): readonly Block[] {
  const all = soundingAt(moment);
  const sounding = all.reduce((sum, { notes }) => sum + notes.length, 0) > said ? all : [];
  const words = wordsNow(moment);
  const sung: Block[] = [
    ...linesOf([
      words.length === 0 ? undefined : `Sung: ${words.map(({ text }) => `“${text}”`).join(", ")}.`,
    ]),
  ];
  if (sounding.length === 0) return sung;
  const head = [
    "sounds",
    "notes",
    ...(chord === undefined ? [] : [`of ${prettyChord(chord.chord)}`]),
    "of the key",
  ];
  const rows = sounding.map(({ row, slot, notes }) => [
    whose(row, slot.hand),
    nameCell({ row, slot, notes }),
    ...(chord === undefined ? [] : [numbersIn(notes, chord)]),
    keyNumbers(notes),
  ]);
  return [{ kind: "table", head, rows }, ...sung];
}

/** `B3 D4 G4`; what goes on says so. */
function nameCell({ notes }: SoundingRow): string {
  const name = ({ note }: SoundingNow): string => prettyPitch(note.pitch);
  if (notes.every(({ held }) => held)) return `${listed(notes.map(name))} (held)`;
  const going = notes.filter(({ held }) => held);
  const all = listed(notes.map(name));
  return going.length === 0 ? all : `${all} (${andList(going.slice(0, mostTones).map(name))} held)`;
}

const numbersIn = (notes: readonly SoundingNow[], { chord }: ChordEvent): string =>
  listed(notes.map(({ note }) => prettyNumber(numberInChord(chord, note))));

const keyNumbers = (notes: readonly SoundingNow[]): string =>
  listed(notes.map(({ note }) => prettyNumber(degreeInKey(note.key, note.pitch.fifths))));

/** `Bar 3, beat 2, for 1 beat.` */
const placeBlock = (moment: Moment, length: Fraction): readonly Block[] =>
  linesOf([
    `${capital(placeWords(moment))}${length.n === 0 ? "" : `, for ${beatsWords(length, moment.bar.meter)}`}.`,
  ]);

/** One slot in a line: `Beat 2: B3 D4 (3 5 of G7)`. */
function slotLine(place: BarPlace, slot: SlotEvent): string {
  const moment = momentOf(place, slot);
  const chord = chordOf(moment, slot);
  const notes = notesOf(slot);
  const when = placeWords(moment).replace(/^.*, /, "");
  if (notes.length === 0) return `${when}: rest`;
  const names = listed(notes.map(({ note }) => prettyPitch(note.pitch)));
  const numbers =
    chord === undefined
      ? `${keyNumbers(notes)} of the key`
      : `${numbersIn(notes, chord)} of ${prettyChord(chord.chord)}`;
  return `${when}: ${names}${slot.kind === "hold" ? " held" : ""} (${numbers})`;
}

/** Whose row it is: `right hand`, `lead`, `lead, right hand`. */
export function whose(row: PitchedRow, hand: Hand | undefined): string {
  if (row === "right" || row === "left") return `${row} hand`;
  return hand === undefined ? row : `${row}, ${hand} hand`;
}

export const capital = (text: string): string => text.slice(0, 1).toUpperCase() + text.slice(1);
