/**
 * What a player is told of a tone, a stack, or a sign among them. Completion documents a tone with `toneDetail` (any
 * tone over a chord, in one line) and names it with `toneRole` (tone-names.ts).
 */
import type { BarPlace, LocatedAs, NoteSlot } from "../chart/locate.js";
import type { Chart, ChordEvent, Hand, Note, SlotEvent } from "../chart/model.js";
import { numberInChord } from "../chart/number-in-chord.js";
import type { PitchedRow } from "../syntax/tree.js";
import { andList } from "../text/and-list.js";
import { sliceOf } from "../text/span.js";
import { type Chord, chordNumber, prettyChord } from "../theory/chord.js";
import { degreeInKey, type Key } from "../theory/key.js";
import { prettyName, prettyStrict } from "../theory/note-name.js";
import { octaveOf, type Pitch, prettyPitch } from "../theory/pitch.js";
import { prettyNumber, type ToneNumber } from "../theory/tone-number.js";
import { doesWords } from "./chord-words.js";
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
import { toneRole } from "./tone-names.js";

/** Any tone over a chord: `F4, the ♭7 of G7 (the 4 of the key)`, with its octave where it is a pitch. */
export function toneDetail(
  tone: Pitch | number,
  chord: Chord | undefined,
  key: Key,
  as?: ToneNumber,
): string {
  const fifths = typeof tone === "number" ? tone : tone.fifths;
  const name = typeof tone === "number" ? prettyName(tone) : prettyPitch(tone);
  const inKey = prettyNumber(degreeInKey(key, fifths));
  if (chord === undefined) return `${name}, the ${inKey} of the key`;
  const number = prettyNumber(as ?? chordNumber(chord, fifths));
  return `${name}, the ${number} of ${prettyChord(chord)} (the ${inKey} of the key)`;
}

/** A tone or grace tone. */
export function toneWords(chart: Chart, place: LocatedAs<"tone" | "grace">): HoverText {
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
  const title = `${toneDetail(note.pitch, chord?.chord, note.key, number)} · ${whose(note.row, note.hand)}`;
  const role =
    chord === undefined || number === undefined ? undefined : toneRole(chord.chord.quality, number);
  return [
    { kind: "title", text: title },
    ...linesOf([
      role === undefined ? undefined : `${capital(role)}.`,
      strictWords(note.pitch),
      kind === "grace" ? "A grace note: it slips into the next tone on the beat." : undefined,
      ...holdWords(note, event, chord, moment),
      ...chordLines(chart, place, chord, event),
    ]),
    ...soundingBlocks(moment, chord),
    ...placeBlock(moment, event, note),
  ];
}

/** A whole stack. */
export function stackWords(chart: Chart, place: LocatedAs<"stack">): HoverText {
  const { event, line, slot } = place;
  if (event === undefined || (event.struck.length === 0 && event.held.length === 0)) {
    return silentWords(place, sliceOf(line.text, slot.span));
  }
  return slotWords(chart, place, event, []);
}

/** A sign that is a slot: `-`, `=`, `%`, `r`, `NC`. */
export function noteSignWords(chart: Chart, place: LocatedAs<"note-sign">): HoverText {
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
  return slotWords(chart, place, event, [
    sign === "="
      ? "= strikes the slot before once more; its numbers follow the chord here."
      : "- goes on with what sounded before.",
  ]);
}

/** Slots that a `%` lists at most: more than any bar that is played by hand. */
const mostSlots = 32;

function slotWords(chart: Chart, place: NoteSlot, event: SlotEvent, more: readonly string[]): HoverText {
  const moment = momentOf(place, event);
  const chord = chordOf(moment, event);
  const notes = notesOf(event);
  const isHeld = event.kind === "hold";
  const names = notes.map(({ note }) => prettyPitch(note.pitch)).join(" ");
  const inChord = chord && `${numbersIn(notes, chord)} of ${prettyChord(chord.chord)}`;
  const inKey = `${keyNumbers(notes)} of the key`;
  const numbers = inChord === undefined ? inKey : `${inChord} (${inKey})`;
  const how = `${event.pushed ? ", pushed" : ""}${event.rolled ? ", rolled" : ""}`;
  return [
    {
      kind: "title",
      text: `${names}${isHeld ? ", held" : ""}: ${numbers}${how} · ${whose(event.row, event.hand)}`,
    },
    ...linesOf([
      ...more,
      event.pushed ? pushedWords : undefined,
      event.rolled ? "Rolled from the bottom up." : undefined,
      ...event.struck
        .filter(({ grace }) => grace)
        .map(({ pitch }) => `${prettyPitch(pitch)} slips into the tone above it in the text.`),
      ...chordLines(chart, place, chord, event),
    ]),
    ...soundingBlocks(moment, chord),
    ...placeBlock(moment, event, undefined),
  ];
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
    "There is no chord here for the number to count from. Write a chord above it, a k before the number to count from the key, or a letter.",
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
  { bar }: Moment,
): (string | undefined)[] {
  const isHeld = slot.held.includes(note);
  const struckOver = note.chord;
  const before =
    struckOver === undefined || chord === undefined || struckOver === chord
      ? ""
      : `, where it was the ${prettyNumber(numberInChord(struckOver.chord, note))} of ${prettyChord(struckOver.chord)}`;
  return [
    isHeld ? `Held from bar ${note.bar + 1}${before}.` : undefined,
    !isHeld && note.pushed ? pushedWords : undefined,
    !isHeld && note.rolled ? "Rolled from the bottom up." : undefined,
    !isHeld && note.heldBy.length > 0 ? `It lasts ${beatsWords(note.length, bar.meter)}.` : undefined,
  ];
}

/** What the chord does; and that it has fallen silent, or comes only after a push. */
function chordLines(
  chart: Chart,
  { placed }: BarPlace,
  chord: ChordEvent | undefined,
  slot: SlotEvent,
): (string | undefined)[] {
  if (chord === undefined) return [slot.kind === "stack" ? "No chord sounds here." : undefined];
  return [`${doesWords(chart, placed, chord)}.`];
}

/** What all rows sound at a moment, with numbers. */
export function soundingBlocks(moment: Moment, chord: ChordEvent | undefined): readonly Block[] {
  const sounding = soundingAt(moment);
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
  if (notes.every(({ held }) => held)) return `${notes.map(name).join(" ")} (held)`;
  const going = notes.filter(({ held }) => held);
  const all = notes.map(name).join(" ");
  return going.length === 0 ? all : `${all} (${andList(going.map(name))} held)`;
}

const numbersIn = (notes: readonly SoundingNow[], { chord }: ChordEvent): string =>
  notes.map(({ note }) => prettyNumber(numberInChord(chord, note))).join(" ");

const keyNumbers = (notes: readonly SoundingNow[]): string =>
  notes.map(({ note }) => prettyNumber(degreeInKey(note.key, note.pitch.fifths))).join(" ");

/** `Bar 3, beat 2, for 1 beat.` */
function placeBlock(moment: Moment, slot: SlotEvent, note: Note | undefined): readonly Block[] {
  const length = note?.grace ? undefined : slot.length;
  const lasting = length === undefined ? "" : `, for ${beatsWords(length, moment.bar.meter)}`;
  return linesOf([`${capital(placeWords(moment))}${lasting}.`]);
}

/** One slot in a line: `Beat 2: B3 D4 (3 5 of G7)`. */
function slotLine(place: BarPlace, slot: SlotEvent): string {
  const moment = momentOf(place, slot);
  const chord = chordOf(moment, slot);
  const notes = notesOf(slot);
  const when = placeWords(moment).replace(/^.*, /, "");
  if (notes.length === 0) return `${when}: rest`;
  const names = notes.map(({ note }) => prettyPitch(note.pitch)).join(" ");
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
