import { meterText } from "../chart/beat-name.js";
import { functionsOf } from "../chart/harmony.js";
import type { Bar, ChordEvent, FormStep, Note, PlacedSection, Section } from "../chart/model.js";
import { numberInChord } from "../chart/number-in-chord.js";
import type { Document } from "../document/document.js";
import type { PitchedRow } from "../syntax/tree.js";
import { indexAt } from "../text/lines.js";
import type { Span } from "../text/span.js";
import { type Chord, chordSymbol } from "../theory/chord.js";
import { scalesFor } from "../theory/chord-scales.js";
import { compare, type Fraction, minus, plus, printFraction } from "../theory/fraction.js";
import type { HarmonicFunction } from "../theory/harmonic-function.js";
import { degreeInKey, type Key } from "../theory/key.js";
import { nameOf } from "../theory/note-name.js";
import { pitchName } from "../theory/pitch.js";
import { fifthsAbove, printNumber } from "../theory/tone-number.js";
import type { PrintedRange } from "./place.js";
import { schemaNumber } from "./schema.js";

const rowOrder: readonly PitchedRow[] = ["lead", "right", "left", "bass"];

/** The resolved chart as `show --json` prints it. Times are fractions of a whole note, names are strict. */
export function showJson({ chart }: Document, path: string) {
  const { header } = chart;
  return {
    schema: schemaNumber,
    path,
    title: header.title ?? null,
    by: header.by ?? null,
    notes: header.notes,
    key: {
      ...keyJson(header.home.key),
      original: header.original === undefined ? null : nameOf(header.original),
    },
    time: meterText(header.meter),
    tempo: header.tempo ?? null,
    feel: header.feel,
    form: chart.form.map(stepJson),
    sections: chart.sections.map((placed) => sectionJson(placed, functionsOf(chart, placed))),
  };
}

const keyJson = ({ tonic, mode }: Key) => ({ tonic: nameOf(tonic), mode });

const stepJson = ({ section, times, moved }: FormStep) => ({
  section: section.section.name,
  key: keyJson(moved.key),
  times,
  move: moved.halfSteps,
});

function sectionJson(placed: PlacedSection, functions: readonly HarmonicFunction[]) {
  const { section, path } = placed;
  const range = ranger(placed);
  return {
    name: section.name,
    lands:
      section.lands === undefined
        ? null
        : printNumber({ number: section.lands.degree, alter: section.lands.alter }),
    vamp: section.vamp,
    key: keyJson(section.start.key),
    tempo: section.tempo ?? null,
    feel: section.feel,
    path: path ?? null,
    plays: section.plays.map(({ item, beforeBar }) => ({
      section: item.name,
      times: item.times,
      beforeBar: beforeBar + 1,
    })),
    bars: barsJson(section, functions, range),
  };
}

type Ranger = (span: Span) => PrintedRange;

/** Ranges in the file of a section, for spans that count from the section's start. */
function ranger({ section, firstLine }: PlacedSection): Ranger {
  const { starts } = section.source;
  const place = (offset: number) => {
    const line = indexAt(starts, offset);
    return { line: firstLine + line + 1, column: offset - (starts[line] ?? 0) + 1 };
  };
  return ({ start, end }) => ({ start: place(start), end: place(end) });
}

function barsJson(section: Section, functions: readonly HarmonicFunction[], range: Ranger) {
  const chords = groupByBar(section.chords);
  const notes = groupByBar(notesOf(section));
  return section.bars.map((bar) => ({
    bar: bar.index + 1,
    time: meterText(bar.meter),
    at: printFraction(bar.at),
    length: printFraction(bar.length),
    key: keyJson(bar.home.key),
    chords: (chords.get(bar.index) ?? []).map((event) => chordJson(event, functions, range)),
    notes: (notes.get(bar.index) ?? []).map(({ note, length }) => noteJson(section, note, length, range)),
    words: bar.words.map(({ verse, text, at, length, span }) => ({
      verse,
      text,
      at: printFraction(at),
      length: printFraction(length),
      range: range(span),
    })),
    cue: bar.cue ?? null,
    repeat: repeatJson(bar),
  }));
}

function groupByBar<T extends { readonly bar: number }>(items: readonly T[]): ReadonlyMap<number, T[]> {
  const groups = new Map<number, T[]>();
  for (const item of items) {
    const group = groups.get(item.bar);
    if (group === undefined) groups.set(item.bar, [item]);
    else group.push(item);
  }
  return groups;
}

function repeatJson({ repeat: { start, end, times, ending } }: Bar) {
  return start || end || ending !== undefined ? { start, end, times, ending: ending ?? null } : null;
}

function chordJson(event: ChordEvent, functions: readonly HarmonicFunction[], range: Ranger) {
  const { chord, key } = event;
  const role = functions[event.index] as HarmonicFunction;
  return {
    text: event.text,
    symbol: chordSymbol(chord),
    root: nameOf(chord.root),
    bass: chord.bass === undefined ? null : nameOf(chord.bass),
    quality: chord.quality.symbol,
    tones: chord.quality.tones.map((tone) => ({
      number: printNumber(tone),
      note: nameOf(chord.root + fifthsAbove(tone)),
    })),
    degree: printNumber(role.degree),
    function: {
      kind: role.kind,
      of: role.of === undefined ? null : printNumber(role.of),
      resolves: role.resolves ?? null,
      text: role.text,
    },
    scales: scalesFor(chord, key, role).map(({ name }) => name),
    at: printFraction(event.at),
    length: printFraction(event.length),
    pickup: event.pickup,
    range: range(event.span),
    repeatedBy: event.repeatedBy === undefined ? null : range(event.repeatedBy),
  };
}

/** A note with the length of the slot that strikes it. */
interface StruckNote {
  readonly note: Note;
  readonly bar: number;
  readonly length: Fraction;
  /** Its place among the notes of its slot, grace notes before their tone. */
  readonly place: number;
}

/** All notes in order of time, then row, then pitch; a grace note stands before its tone. */
function notesOf({ rows }: Section): StruckNote[] {
  const all: StruckNote[] = rowOrder.flatMap((row) =>
    rows[row].slots.flatMap(({ struck, length }) => {
      const order = inPitchOrder(struck);
      return order.map((note, place) => ({ note, bar: note.bar, length, place }));
    }),
  );
  const rank = ({ note }: StruckNote): number => rowOrder.indexOf(note.row);
  return all.sort((a, b) => compare(a.note.at, b.note.at) || rank(a) - rank(b) || a.place - b.place);
}

/** By pitch; a grace note goes with the tone behind it. */
function inPitchOrder(struck: readonly Note[]): readonly Note[] {
  const groups: Note[][] = [];
  let graces: Note[] = [];
  for (const note of struck) {
    graces.push(note);
    if (note.grace) continue;
    groups.push(graces);
    graces = [];
  }
  if (graces.length > 0) groups.push(graces);
  const pitchOf = (group: readonly Note[]): number => (group.at(-1) as Note).pitch.midi;
  return groups.sort((a, b) => pitchOf(a) - pitchOf(b)).flat();
}

function noteJson(section: Section, note: Note, length: Fraction, range: Ranger) {
  return {
    row: note.row,
    hand: note.hand ?? null,
    text: note.text,
    pitch: pitchName(note.pitch),
    midi: note.pitch.midi,
    chordNumber: chordNumberText(note.chord?.chord, note),
    keyNumber: printNumber(degreeInKey(note.key, note.pitch.fifths)),
    at: printFraction(note.at),
    length: printFraction(note.length),
    rolled: note.rolled,
    grace: note.grace,
    pushed: note.pushed,
    pickup: note.pickup,
    holds: holdsOf(section, note, length, range),
    range: range(note.span),
    repeatedBy: note.repeatedBy === undefined ? null : range(note.repeatedBy),
  };
}

const chordNumberText = (chord: Chord | undefined, note: Note): string | null =>
  chord === undefined ? null : printNumber(numberInChord(chord, note));

/** Every later slot or chord that a note lasts through. */
function holdsOf(section: Section, note: Note, length: Fraction, range: Ranger) {
  if (note.grace) return [];
  const own = { at: note.at, length, text: note.text, span: note.span, isOwn: true };
  const slots = [own, ...note.heldBy.map((slot) => ({ ...slot, isOwn: false }))];
  return slots.flatMap(({ at, length, text, span, isOwn }) => {
    const changes = isOwn && note.pickup ? [] : chordStarts(section, at, plus(at, length));
    const starts = isOwn ? changes : [at, ...changes];
    return starts.map((from, i) => {
      const chord = chordAt(section, from);
      return {
        at: printFraction(from),
        length: printFraction(minus(starts[i + 1] ?? plus(at, length), from)),
        text,
        chord: chord === undefined ? null : chordSymbol(chord),
        chordNumber: chordNumberText(chord, note),
        keyNumber: printNumber(degreeInKey(keyAt(section, from) ?? note.key, note.pitch.fifths)),
        range: range(span),
      };
    });
  });
}

/** The first chord from `at` on, by halving: chords stand in order of time. */
function firstFrom(chords: readonly ChordEvent[], at: Fraction): number {
  let low = 0;
  let high = chords.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (compare((chords[middle] as ChordEvent).at, at) < 0) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** Where chords start between two places, both excluded. Pickups sound over other bars and don't count. */
function chordStarts({ chords }: Section, from: Fraction, to: Fraction): Fraction[] {
  const starts: Fraction[] = [];
  for (let i = firstFrom(chords, from); i < chords.length; i++) {
    const { at, pickup } = chords[i] as ChordEvent;
    if (compare(at, to) >= 0) break;
    if (!pickup && compare(at, from) > 0) starts.push(at);
  }
  return starts;
}

function chordAt({ chords }: Section, at: Fraction): Chord | undefined {
  for (let i = firstFrom(chords, at); i >= 0; i--) {
    const event = chords[i];
    if (event === undefined || event.pickup || compare(event.at, at) > 0) continue;
    return compare(at, plus(event.at, event.length)) < 0 ? event.chord : undefined;
  }
  return undefined;
}

const keyAt = ({ bars }: Section, at: Fraction): Key | undefined =>
  bars.findLast((bar) => compare(bar.at, at) <= 0)?.home.key;
