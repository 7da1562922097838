import type { PlacedSection, Section, SlotEvent, System } from "../chart/model.js";
import type { LeafSlot, PitchedRow, RootText, RowName, Slot, StackText, Statement } from "../syntax/tree.js";
import type { Edit } from "../text/edits.js";
import { type Span, shift, sliceOf } from "../text/span.js";
import { type Chord, degreeText, letterText } from "../theory/chord.js";
import { degreeInKey, type Key, prettyKey } from "../theory/key.js";
import { nameOf } from "../theory/note-name.js";
import { printNumber } from "../theory/tone-number.js";
import { barAround } from "./bar-around.js";
import type { ChartText } from "./chart-text.js";
import type { EditNote, EditResult } from "./result.js";
import { unreadNotes } from "./unread-notes.js";
import { type Notation, type ToneContext, writtenStack, writtenTone } from "./written-tone.js";

/** The rows that have a notation. */
export type RewrittenRow = Exclude<RowName, "words" | "cue">;

/**
 * Turns rows from letters to numbers or from numbers to letters. The chart sounds the same; a `%` or `=` whose
 * tones would differ is written out; what has no other notation, or can't be read, stays and is said.
 */
export function rewriteRows(
  { chart, tree }: ChartText,
  to: Notation,
  rows: readonly RewrittenRow[],
): EditResult {
  const edits: Edit[] = [];
  const notes: EditNote[] = [];
  for (const placed of chart.sections) {
    if (placed.path !== undefined) continue;
    for (const row of rows) {
      const found =
        row === "chords"
          ? rewriteChords(placed.section, to, notes, placed)
          : rewriteNotes(placed.section, row, to, notes, placed);
      for (const { span, text } of found) edits.push({ span: shift(span, placed.offset), text });
    }
  }
  const isOfConcern = (it: Statement): boolean =>
    it.kind === "key" || (it.kind === "row" && rows.some((row) => row === it.row));
  notes.push(...unreadNotes(tree, "rewritten", isOfConcern));
  return { edits, notes: notes.sort((a, b) => a.span.start - b.span.start) };
}

function rewriteChords(
  section: Section,
  to: Notation,
  notes: EditNote[],
  { offset }: PlacedSection,
): readonly Edit[] {
  const struck = new Map(
    section.chords.filter((it) => it.repeatedBy === undefined).map((event) => [event.span.start, event]),
  );
  const edits: Edit[] = [];
  for (const { slot, start } of leavesOfRow(section, "chords")) {
    const { content } = slot;
    const span = shift(slot.span, start);
    const event = struck.get(span.start);
    if (event === undefined || (content.kind !== "chord" && content.kind !== "bass")) continue;
    if (isWritten(content.kind === "chord" ? content : { bass: content.bass }, to)) continue;
    const { chord, key } = event;
    const bass = chord.bass ?? chord.root;
    const names = content.kind === "chord" ? [chord.root, bass] : [bass];
    if (to === "numbers" && names.some((name) => isTooFar(key, name))) {
      const message = `${sliceOf(section.source.text, span)} stays as it is: it lies too far from ${prettyKey(key)} for a number.`;
      notes.push({ message, span: shift(span, offset) });
      continue;
    }
    const text = content.kind === "chord" ? chordText(chord, key, to) : `/${bassText(bass, key, to)}`;
    edits.push({ span, text });
  }
  return edits;
}

const isWritten = (
  { root, bass }: { readonly root?: RootText; readonly bass: RootText | undefined },
  to: Notation,
): boolean => [root, bass].every((it) => it === undefined || (it.kind === "letter") === (to === "letters"));

/** Numbers carry two signs at most. */
const isTooFar = (key: Key, fifths: number): boolean => Math.abs(degreeInKey(key, fifths).alter) > 2;

const chordText = (chord: Chord, key: Key, to: Notation): string =>
  to === "letters" ? letterText(chord) : degreeText(chord, key);

const bassText = (fifths: number, key: Key, to: Notation): string =>
  to === "letters" ? nameOf(fifths) : printNumber(degreeInKey(key, fifths));

function rewriteNotes(
  section: Section,
  row: PitchedRow,
  to: Notation,
  notes: EditNote[],
  { offset }: PlacedSection,
): readonly Edit[] {
  const { text } = section.source;
  const stacks = new Map<number, StackText>();
  for (const { slot, start } of leavesOfRow(section, row)) {
    if (slot.content.kind === "stack") stacks.set(slot.span.start + start, slot.content);
  }
  /** What a slot's text becomes. That of a `=` strikes every tone. */
  const become = (slot: SlotEvent, isAgain = slot.written.start !== slot.span.start): string => {
    const stack = stacks.get(slot.span.start);
    return stack === undefined
      ? ""
      : writtenStack(stack, sliceOf(text, slot.span), to, contextOf(section, slot), isAgain);
  };
  const differ = (one: SlotEvent, other: SlotEvent): boolean => {
    const plain = (slot: SlotEvent): string => become(slot, false).replaceAll("_", "");
    return plain(one) !== plain(other);
  };
  const edits: Edit[] = [];
  const byWritten = new Map<number, SlotEvent>();
  /** The last `=` written out in place of a slot: the next `=` repeats that one. */
  const writtenOut = new Map<number, SlotEvent>();
  const bars = new Map<Span, SlotEvent[]>();
  for (const slot of section.rows[row].slots) {
    const isAgain = slot.repeatedBy?.start === slot.written.start;
    if (slot.repeatedBy !== undefined && !isAgain) {
      const events = bars.get(slot.repeatedBy);
      if (events === undefined) bars.set(slot.repeatedBy, [slot]);
      else events.push(slot);
      continue;
    }
    byWritten.set(slot.written.start, slot);
    if (slot.kind !== "stack") continue;
    if (isAgain) {
      const first = writtenOut.get(slot.span.start) ?? byWritten.get(slot.span.start);
      if (first !== undefined && differ(first, slot)) {
        edits.push({ span: slot.written, text: become(slot) });
        writtenOut.set(slot.span.start, slot);
      }
      continue;
    }
    const stack = stacks.get(slot.span.start);
    for (const tone of stack?.tones ?? []) {
      const span = shift(tone.span, slot.span.start);
      const now = writtenTone(tone, sliceOf(text, span), to, contextOf(section, slot));
      if (now !== undefined) edits.push({ span, text: now });
      else if (to === "letters" ? tone.name.kind === "number" : tone.name.kind === "pitch") {
        const why = tone.name.kind === "number" ? "no chord sounds there" : "it names its exact octave";
        notes.push({ message: `${sliceOf(text, span)} stays as it is: ${why}.`, span: shift(span, offset) });
      }
    }
  }
  /** The last bar written out in place of a bar's `%`: the next `%` repeats that one. */
  const barOut = new Map<number, ReadonlyMap<number, SlotEvent>>();
  for (const [span, events] of bars) {
    const bar = (events[0] as SlotEvent).written.start;
    const before = barOut.get(bar) ?? byWritten;
    const differs = events.some((slot) => {
      const first = before.get(slot.written.start);
      return slot.kind === "stack" && first !== undefined && differ(first, slot);
    });
    if (!differs) continue;
    edits.push({ span, text: writeOut(section, row, events, become, differ) });
    barOut.set(bar, new Map(events.map((slot) => [slot.written.start, slot])));
  }
  return edits;
}

const contextOf = (section: Section, { row, system, chord }: SlotEvent): ToneContext => ({
  row,
  key: (section.systems[system] as System).home.key,
  chord: chord?.chord,
});

/** The text of a bar that `%` repeats, as it sounds under its own chords. */
function writeOut(
  section: Section,
  row: PitchedRow,
  events: readonly SlotEvent[],
  become: (slot: SlotEvent) => string,
  differ: (one: SlotEvent, other: SlotEvent) => boolean,
): string {
  const { text } = section.source;
  const { bar, start } = barAround(section, row, (events[0] as SlotEvent).written) as NonNullable<
    ReturnType<typeof barAround>
  >;
  const first = bar.slots[0] as Slot;
  const last = bar.slots[bar.slots.length - 1] as Slot;
  let result = "";
  let at = first.span.start + start;
  const own = new Map(events.map((slot) => [slot.written.start, slot]));
  for (const slot of events) {
    const target = own.get(slot.span.start);
    const keeps = slot.kind !== "stack" || (target !== slot && target !== undefined && !differ(target, slot));
    // The next `=` repeats this one.
    if (!keeps) own.set(slot.span.start, slot);
    result += text.slice(at, slot.written.start) + (keeps ? sliceOf(text, slot.written) : become(slot));
    at = slot.written.end;
  }
  return result + text.slice(at, last.span.end + start);
}

/** Every leaf of a row through a section, with the start of its line. */
function* leavesOfRow(
  section: Section,
  row: RowName,
): Generator<{ readonly slot: LeafSlot; readonly start: number }> {
  function* leaves(slots: readonly Slot[]): Generator<LeafSlot> {
    for (const slot of slots) {
      if (slot.kind === "group") yield* leaves(slot.slots);
      else yield slot;
    }
  }
  for (const { rows } of section.systems) {
    for (const { row: name, line, start } of rows) {
      if (name !== row) continue;
      for (const slot of leaves(line.pickup)) yield { slot, start };
      for (const bar of line.bars) for (const slot of leaves(bar.slots)) yield { slot, start };
    }
  }
}
