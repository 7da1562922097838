import { rowIn } from "../chart/layout.js";
import type { ChordEvent, RowEvents, Section, SlotEvent, System } from "../chart/model.js";
import type { Fix } from "../problems/problem.js";
import type { LeafSlot, PitchedRow, Slot, SlotContent } from "../syntax/tree.js";
import { type Span, shift, sliceOf } from "../text/span.js";
import { type Chord, prettyChord, toneInChord } from "../theory/chord.js";
import { compare } from "../theory/fraction.js";
import { functionOf } from "../theory/harmonic-function.js";
import { isPractical, type Key, prettyKey, scaleOf } from "../theory/key.js";
import { nameOf, pitchClass, prettyStrict, readName } from "../theory/note-name.js";
import { octaveOf, type Pitch } from "../theory/pitch.js";
import { numberOf } from "../theory/tone-number.js";
import type { SectionCheck } from "./check.js";

/** A letter under a name that neither its chord nor its key has, while one of them has its sound under another. */
export const spelling: SectionCheck<"spelling"> = {
  code: "spelling",
  run({ section }, report) {
    const strange = new Set<ChordEvent>();
    for (const { event, letters } of writtenChords(section)) {
      for (const { part, span } of letters) {
        const { chord, key } = event;
        const isRoot = part === "root";
        const fifths = isRoot ? chord.root : (chord.bass ?? chord.root);
        if (isRoot && leadsUp(section, event)) continue;
        const right = isRoot ? inScale(fifths, key) : inChordOrScale(fifths, chord, key);
        if (right === undefined) continue;
        if (isRoot) strange.add(event);
        const { text } = section.source;
        // In C#b9 the flat is the quality's; after another letter it would be the root's.
        const joint = isRoot && /[b♭#♯]/u.test(text[span.end] ?? "") ? ":" : "";
        const fix = respell(span, sliceOf(text, span), nameOf(right.fifths), joint);
        report(span, facts(fifths, right), { row: "chords", fixes: [fix] });
      }
    }
    for (const written of rowsWithLetters(section)) {
      for (const { row: name, pitch, isExact, chord, key, span, target } of writtenTones(
        section.rows[written],
        section,
      )) {
        // One wrong name is told once: not again by the tones that are counted from it.
        if (chord !== undefined && strange.has(chord)) continue;
        const right = inChordOrScale(pitch.fifths, chord?.chord, key);
        if (right === undefined || (chord === undefined && hasUnread(section))) continue;
        if (target !== undefined && isSlipByStep(pitch.fifths, target, chord?.chord, key)) continue;
        const octave = isExact ? octaveOf({ ...pitch, fifths: right.fifths }) : "";
        const fix = respell(span, sliceOf(section.source.text, span), `${nameOf(right.fifths)}${octave}`);
        report(span, facts(pitch.fifths, right), { row: name, fixes: [fix] });
      }
    }
  },
};

/** A letter in a row of notes. */
interface WrittenTone {
  readonly row: PitchedRow;
  readonly pitch: Pitch;
  /** It has its octave behind it. */
  readonly isExact: boolean;
  readonly chord: ChordEvent | undefined;
  readonly key: Key;
  /** The name with its octave, without the signs before it. */
  readonly span: Span;
  /** Of a grace note the name of the tone that it slips into. */
  readonly target: number | undefined;
}

/** The rows of notes in which a letter may stand; most charts are written in numbers and need no look at their notes. */
function rowsWithLetters({ source: { lines }, rows }: Section): ReadonlySet<PitchedRow> {
  const written = new Set<PitchedRow>();
  for (const { statement, text } of lines) {
    if (statement.kind === "row" && statement.row in rows && /[A-G]/.test(text)) {
      written.add(statement.row as PitchedRow);
    }
  }
  return written;
}

/** Every letter of a row where it is written: struck, slipped from or held by `_`; not again where `=` or `%` repeats it. */
function* writtenTones({ notes, slots }: RowEvents, section: Section): Generator<WrittenTone> {
  for (const [i, note] of notes.entries()) {
    const { tone, grace } = note;
    const name = grace ? tone.grace : tone.name;
    if (name?.kind !== "pitch" || note.repeatedBy !== undefined) continue;
    const { row, pitch, chord, key, span } = note;
    const isExact = name.octave !== undefined;
    // A grace note stands right before its tone.
    const target = grace ? notes[i + 1]?.pitch.fifths : undefined;
    const nameSpan = grace ? span : shift(tone.nameSpan, span.start - tone.span.start);
    yield { row, pitch, isExact, chord, key, span: nameSpan, target };
  }
  for (const slot of slots) {
    if (slot.repeatedBy === undefined && slot.held.length > 0) yield* heldTones(slot, section);
  }
}

/** The letters that a slot holds by `_`. A tone keeps the name that it was struck under, so the text is asked. */
function* heldTones({ row, held, at, bar, chord }: SlotEvent, { bars }: Section): Generator<WrittenTone> {
  const key = bars[bar]?.home.key;
  for (const note of held) {
    const by = note.heldBy.find((it) => compare(it.at, at) === 0);
    const [name = "", letters = "", octave] = /([A-G][b♭#♯x𝄫𝄪]*)([0-9])?$/u.exec(by?.text ?? "") ?? [];
    const fifths = readName(letters);
    if (by === undefined || key === undefined || fifths === undefined || !by.text.startsWith("_")) continue;
    const span = { start: by.span.end - name.length, end: by.span.end };
    const pitch = { fifths, midi: note.pitch.midi };
    yield { row, pitch, isExact: octave !== undefined, chord, key, span, target: undefined };
  }
}

/** Whether a grace note leads by a half step from letter to letter into a tone of the chord or the key: B into C. */
function isSlipByStep(grace: number, target: number, chord: Chord | undefined, key: Key): boolean {
  const tones = chord?.quality.tones.map((n) => toneInChord(chord, n)) ?? [];
  return Math.abs(grace - target) === 5 && (tones.includes(target) || scaleOf(key).includes(target));
}

/** The name that a tone should have, and what has it under that name. */
interface Right {
  readonly fifths: number;
  readonly owner: string;
}

const facts = (fifths: number, { fifths: right, owner }: Right) => ({
  wrote: prettyStrict(fifths),
  write: prettyStrict(right),
  why: `${owner} has this tone under the name ${prettyStrict(right)}`,
});

/** A leading-tone chord is spelled by the chord a half step above that it leads to. */
function leadsUp({ chords }: Section, { chord, key, index }: ChordEvent): boolean {
  const next = chords[index + 1]?.chord;
  return next?.root === chord.root - 5 && functionOf(chord, key, next).kind === "leading-tone";
}

/**
 * The scale's own name of a sound that stands under another; `undefined` where the name is right or free. A key that
 * should have another name itself says nothing.
 */
function inScale(fifths: number, key: Key): Right | undefined {
  if (!isPractical(key)) return undefined;
  const right = twinIn(scaleOf(key), fifths);
  return right === undefined ? undefined : { fifths: right, owner: prettyKey(key) };
}

/**
 * The same for a tone: its chord's name comes first, then the key's. A name that is a usual number of the chord
 * (the #9 of F is G#) or stands in the scale is free.
 */
function inChordOrScale(fifths: number, chord: Chord | undefined, key: Key): Right | undefined {
  const scale = scaleOf(key);
  if (scale.includes(fifths)) return undefined;
  if (chord !== undefined) {
    const right = twinIn(
      chord.quality.tones.map((n) => toneInChord(chord, n)),
      fifths,
    );
    if (right !== undefined) return { fifths: right, owner: prettyChord({ ...chord, bass: undefined }) };
    if (isUsual(numberOf(chord.root, fifths))) return undefined;
  }
  return inScale(fifths, key);
}

/** The one of these names that sounds like `fifths`; `undefined` where none does, or it is among them. */
const twinIn = (names: readonly number[], fifths: number): number | undefined =>
  names.includes(fifths) ? undefined : names.find((name) => pitchClass(name) === pitchClass(fifths));

/** Numbers that players give to a tone over a chord. */
const isUsual = ({ number, alter }: { readonly number: number; readonly alter: number }): boolean =>
  alter === 0 ||
  (alter === -1 && number !== 1 && number !== 4) ||
  (alter === 1 && [2, 4, 5].includes(number));

/** The same sound under another name, with the signs that the chart uses. */
function respell(span: Span, written: string, name: string, joint = ""): Fix {
  const text = /[♭♯]/u.test(written) ? name.replaceAll("b", "♭").replaceAll("#", "♯") : name;
  return { title: `Write ${text}`, edits: [{ span, text: text + joint }], silent: true };
}

interface WrittenLetters {
  readonly event: ChordEvent;
  readonly letters: readonly { readonly part: "root" | "bass"; readonly span: Span }[];
}

/** Every chord with its letters, where it is written: not again where `%` strikes it. */
function* writtenChords({ systems, chords }: Section): Generator<WrittenLetters> {
  const lettered = chords.filter((it) => /[A-G]/.test(it.text) && it.repeatedBy === undefined);
  if (lettered.length === 0) return;
  const written = new Map(lettered.map((it) => [it.span.start, it]));
  for (const system of systems) {
    for (const { content, at } of chordSlots(system)) {
      if (content.kind !== "chord" && content.kind !== "bass") continue;
      const event = written.get(at);
      if (event === undefined) continue;
      const root = content.kind === "chord" ? content.root : undefined;
      const letters = [];
      if (root?.kind === "letter") letters.push({ part: "root" as const, span: shift(root.span, at) });
      if (content.bass?.kind === "letter") {
        letters.push({ part: "bass" as const, span: shift(content.bass.span, at) });
      }
      if (letters.length > 0) yield { event, letters };
    }
  }
}

/** Whether a chord can't be read, so that a tone may have its name from there. */
const hasUnread = ({ systems }: Section): boolean =>
  systems.some((system) => [...chordSlots(system)].some(({ content }) => content.kind === "unread"));

/** What is written in a system's `chords` row, and where each slot starts in its section. */
function* chordSlots(system: System): Generator<{ readonly content: SlotContent; readonly at: number }> {
  const row = rowIn(system, "chords");
  if (row === undefined) return;
  const { line, start } = row;
  for (const { content, span } of leaves([...line.pickup, ...line.bars.flatMap(({ slots }) => slots)])) {
    yield { content, at: span.start + start };
  }
}

function* leaves(slots: readonly Slot[]): Generator<LeafSlot> {
  for (const slot of slots) {
    if (slot.kind === "group") yield* leaves(slot.slots);
    else yield slot;
  }
}
