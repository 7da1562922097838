import type { Hand } from "../keyboard/hand.js";
import type { PitchedRow, ToneText } from "../syntax/tree.js";
import { type Span, shift, sliceOf } from "../text/span.js";
import { type Fraction, plus, zero } from "../theory/fraction.js";
import type { Key } from "../theory/key.js";
import type { Pitch } from "../theory/pitch.js";
import { longest } from "./layout.js";
import type { ChordEvent, HeldSlot, Leaf, Note, RowEvents, SlotEvent, System } from "./model.js";
import type { PlacedStack, PlacedTone } from "./stack.js";

/** What all slots of a row in one system share. */
export interface RowInSystem {
  readonly row: PitchedRow;
  readonly hand: Hand | undefined;
  readonly system: System;
  readonly key: Key;
  /** The lowest key of the row's home octave, a MIDI number. */
  readonly home: number;
  /** The section's text. */
  readonly text: string;
}

/** What all slots of one bar of a row share. */
export interface RowPlace {
  readonly line: RowInSystem;
  readonly bar: number;
  /** When it starts. */
  readonly at: Fraction;
  readonly pickup: boolean;
  /** Where the line starts that holds the slots; of a bar that `%` repeats, the line of that bar. */
  readonly lineStart: number;
  readonly repeatedBy: Span | undefined;
}

const noNotes: readonly SoundingNote[] = [];
const noSlots: readonly HeldSlot[] = [];

// A chart has tens of thousands of these: as classes they carry only what is their own, and look the rest up. Most
// notes are never asked for, so they are made when they are.

/** A later slot that holds all that one strikes, and how long it has lasted by then. */
interface Holder {
  readonly slot: PlayedSlot;
  readonly lasted: Fraction;
}

export class PlayedSlot implements SlotEvent {
  /** Those that are struck, and those that are held, once somebody has asked for them. */
  private made: readonly SoundingNote[] | undefined;
  private kept: readonly SoundingNote[] | undefined;
  /** Of a stack who holds all of it, of a hold the stack that it holds. */
  private tied: Holder[] | PlayedSlot | undefined;

  /** `target` is the slot that it is charged to: another than `leaf` for a `=`. */
  constructor(
    readonly place: RowPlace,
    readonly kind: SlotEvent["kind"],
    readonly leaf: Leaf,
    readonly target: Leaf,
    readonly chord: ChordEvent | undefined,
    readonly placed: PlacedStack | undefined,
  ) {}

  get struck(): readonly SoundingNote[] {
    if (this.made === undefined) {
      // A copy has no room for more, which a list that has grown keeps.
      this.made = this.placed?.tones.flatMap((it) => strikeTone(this, it)).slice() ?? noNotes;
      if (Array.isArray(this.tied)) for (const it of this.tied) lengthen(this.made, it);
    }
    return this.made;
  }
  /** For a slot in which some tones go on from before. */
  set struck(notes: readonly SoundingNote[]) {
    this.made = notes;
  }
  get held(): readonly SoundingNote[] {
    if (this.kept === undefined && this.tied instanceof PlayedSlot)
      this.kept = this.tied.struck.filter(({ grace }) => !grace);
    return this.kept ?? noNotes;
  }
  set held(notes: readonly SoundingNote[]) {
    this.kept = notes;
  }
  /** A later slot holds all that is struck here, so that it lasts so long in all. */
  holdAll(lasted: Fraction, slot: PlayedSlot): void {
    const by = { slot, lasted };
    if (this.made !== undefined) lengthen(this.made, by);
    else if (Array.isArray(this.tied)) this.tied.push(by);
    else this.tied = [by];
  }
  /** It holds all that another slot strikes. */
  holdsOn(slot: PlayedSlot): void {
    this.tied = slot;
  }
  get lasts(): Fraction {
    if (this.made !== undefined) return this.made.reduce((most, { length }) => longest(most, length), zero);
    if (this.placed === undefined || this.placed.tones.length === 0) return zero;
    const { length } = this.leaf;
    return Array.isArray(this.tied)
      ? this.tied.reduce((most, { lasted }) => longest(most, lasted), length)
      : length;
  }

  get at(): Fraction {
    return plus(this.place.at, this.leaf.at);
  }
  get row(): PitchedRow {
    return this.place.line.row;
  }
  get hand(): Hand | undefined {
    return this.place.line.hand;
  }
  get system(): number {
    return this.place.line.system.index;
  }
  get bar(): number {
    return this.place.bar;
  }
  get pickup(): boolean {
    return this.place.pickup;
  }
  get length(): Fraction {
    return this.leaf.length;
  }
  get home(): number {
    return this.place.line.home;
  }
  get groupOctaves(): number {
    return this.leaf.octaves;
  }
  get rolled(): boolean {
    const { content } = this.target;
    return content.kind === "stack" && content.rolled !== undefined;
  }
  get pushed(): boolean {
    const { content } = this.target;
    return content.kind === "stack" && content.pushed !== undefined;
  }
  get span(): Span {
    return shift(this.target.span, this.place.lineStart);
  }
  get written(): Span {
    return shift(this.leaf.span, this.place.lineStart);
  }
  get repeatedBy(): Span | undefined {
    return this.place.repeatedBy ?? (this.leaf === this.target ? undefined : this.written);
  }
}

function lengthen(struck: readonly SoundingNote[], { slot, lasted }: Holder): void {
  const { at, length, written } = slot;
  for (const note of struck)
    if (!note.grace) note.hold(longest(note.length, lasted), { at, length, text: "-", span: written });
}

export class SoundingNote implements Note {
  length: Fraction;
  heldBy = noSlots;

  constructor(
    readonly slot: PlayedSlot,
    readonly tone: ToneText,
    readonly pitch: Pitch,
    readonly grace: boolean,
  ) {
    this.length = grace ? zero : slot.length;
  }

  /** One more slot holds it, so that it lasts so long in all. */
  hold(length: Fraction, by: HeldSlot): void {
    this.length = length;
    this.heldBy = this.heldBy.concat(by);
  }

  get row(): PitchedRow {
    return this.slot.place.line.row;
  }
  get hand(): Hand | undefined {
    return this.slot.place.line.hand;
  }
  get chord(): ChordEvent | undefined {
    return this.slot.chord;
  }
  get key(): Key {
    return this.slot.place.line.key;
  }
  get system(): number {
    return this.slot.place.line.system.index;
  }
  get bar(): number {
    return this.slot.place.bar;
  }
  get pickup(): boolean {
    return this.slot.place.pickup;
  }
  get at(): Fraction {
    return this.slot.at;
  }
  get rolled(): boolean {
    return !this.grace && this.slot.rolled;
  }
  get pushed(): boolean {
    return this.slot.pushed;
  }
  get span(): Span {
    const { target, place } = this.slot;
    const inSlot = this.grace && this.tone.graceSpan !== undefined ? this.tone.graceSpan : this.tone.span;
    return shift(inSlot, target.span.start + place.lineStart);
  }
  get text(): string {
    return sliceOf(this.slot.place.line.text, this.span);
  }
  get repeatedBy(): Span | undefined {
    return this.slot.repeatedBy;
  }
}

/** A tone as a slot strikes it, after its grace note. */
export function strikeTone(slot: PlayedSlot, { tone, pitch, grace }: PlacedTone): readonly SoundingNote[] {
  const note = new SoundingNote(slot, tone, pitch, false);
  return grace === undefined ? [note] : [new SoundingNote(slot, tone, grace, true), note];
}

export class PlayedRow implements RowEvents {
  private made: readonly SoundingNote[] | undefined;

  constructor(
    readonly slots: readonly PlayedSlot[],
    readonly lowest: number,
    readonly highest: number,
    readonly mostTones: number,
  ) {}

  get notes(): readonly SoundingNote[] {
    this.made ??= this.slots.flatMap(({ struck }) => struck);
    return this.made;
  }
}
