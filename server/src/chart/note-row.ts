import type { BarText, PitchedRow, Slot, StackText } from "../syntax/tree.js";
import { type Span, shift, sliceOf } from "../text/span.js";
import { compare, type Fraction, minus, plus, times, zero } from "../theory/fraction.js";
import { pitchAt, prettyPitch } from "../theory/pitch.js";
import { beatLength, leavesOf } from "./bar-time.js";
import type { ChordTimeline } from "./chord-row.js";
import { chordInBar, chordInPickup, nextChord, type Under } from "./counting-chord.js";
import { handOf, homeOctave } from "./home-octave.js";
import { type BarFrame, type Layout, longest, rowIn } from "./layout.js";
import type { Displacement, Leaf, Mark, RowEvents } from "./model.js";
import { enterBar, noPasses, type Passes } from "./passes.js";
import {
  PlayedRow,
  PlayedSlot,
  type RowInSystem,
  type RowPlace,
  type SoundingNote,
  strikeTone,
} from "./row-events.js";
import { type PlacedStack, type PlacedTone, placedBefore, placeStack, type StackPlace } from "./stack.js";

/** A note that sounds, and how long it has done so in this pass. */
interface Sounding {
  readonly note: SoundingNote;
  readonly lasted: Fraction;
}

/** The slots of a bar, and where their line starts. */
interface Written {
  readonly slots: readonly Slot[];
  readonly start: number;
}

interface State {
  kind: "nothing" | "rest" | "sound" | "unread";
  /** What sounds; of a slot all that it strikes, whose notes need not be made yet. */
  sounding: readonly Sounding[] | PlayedSlot;
  /** How long such a slot has sounded in this pass. */
  lasted: Fraction;
  /** The row's last written bar, for `%`. */
  last: Written | undefined;
}

const silence: readonly Sounding[] = [];
const noSlots: readonly Slot[] = [];

function soundingIn({ sounding, lasted }: Readonly<State>): readonly Sounding[] {
  if (!(sounding instanceof PlayedSlot)) return sounding;
  return sounding.struck.filter(({ grace }) => !grace).map((note) => ({ note, lasted }));
}

const notesOf = (sounding: readonly Sounding[]): readonly SoundingNote[] => sounding.map(({ note }) => note);

const noRow = new PlayedRow([], Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, 0);

/** One pitched row through a section: every slot with its keys, held tones joined. */
export function resolveRow(
  row: PitchedRow,
  layout: Layout,
  text: string,
  displacement: Displacement,
  chords: ChordTimeline,
  marks: Mark[],
): RowEvents {
  if (!layout.systems.some((system) => rowIn(system, row) !== undefined)) return noRow;
  const slots: PlayedSlot[] = [];
  let lowest = Number.POSITIVE_INFINITY;
  let highest = Number.NEGATIVE_INFINITY;
  let mostTones = 0;
  /** Where a bar goes on with the tones before it, for the repeats that come back there. */
  const continued = new Map<number, { readonly span: Span; readonly sign: "-" | "_" }>();
  // One object, changed as the row goes on: there would be one for every slot.
  let state: State = { kind: "nothing", sounding: silence, lasted: zero, last: undefined };
  let passes: Passes<Readonly<State>> = noPasses;
  let from: number | undefined;
  const isPrinted = displacement.fifths === 0 && displacement.halfSteps === 0;
  const enter = (bar: BarFrame): void => {
    if (!layout.repeats) return;
    const entered = enterBar(passes, bar, { ...state });
    passes = entered.passes;
    state = { ...entered.state };
  };

  for (const system of layout.systems) {
    const written = rowIn(system, row);
    if (written === undefined) {
      for (let i = system.firstBar; i < system.endBar; i++) {
        enter(layout.bars[i] as BarFrame);
        state.kind = "rest";
        state.sounding = silence;
      }
      continue;
    }
    const { line, start } = written;
    if (line.from?.pitch.octave !== undefined) {
      from = pitchAt(line.from.pitch.fifths, line.from.pitch.octave).midi + displacement.halfSteps;
    }
    const here: RowInSystem = {
      row,
      hand: handOf(row, system.rows),
      system,
      key: system.home.key,
      home: from ?? homeOctave(row, system.home.one),
      text,
    };
    const { firstBar } = system;
    if (line.pickup.length > 0) {
      const length = times(beatLength(system.meter), line.pickup.length);
      const at = minus(layout.bars[firstBar]?.at ?? layout.length, length);
      const place = { line: here, bar: firstBar, at, pickup: true, lineStart: start, repeatedBy: undefined };
      playPickup(line.pickup, length, place);
    }
    for (let i = firstBar; i < system.endBar; i++) {
      const bar = layout.bars[i] as BarFrame;
      enter(bar);
      playBar(line.bars[i - firstBar], bar, {
        line: here,
        bar: i,
        at: bar.at,
        pickup: false,
        lineStart: start,
        repeatedBy: undefined,
      });
      if (bar.repeat.end) compareWithStart(bar);
    }
  }
  // A copy has no room for more, which a list that has grown keeps.
  return new PlayedRow(slots.slice(), lowest, highest, mostTones);

  function playPickup(written: readonly Slot[], length: Fraction, place: RowPlace): void {
    const { at } = place;
    const leaves = leavesOf(written, length);
    if (leaves?.[0]?.content.kind === "hold" && state.kind !== "nothing") {
      // What the row sounds just before the pickup, in the bar that it covers.
      const sounding = slots
        .flatMap(({ struck }) => struck)
        .filter((it) => !it.grace && compare(it.at, at) < 0 && compare(plus(it.at, it.length), at) >= 0)
        .map((note) => ({ note, lasted: minus(at, note.at) }));
      state.kind = sounding.length > 0 ? "sound" : "rest";
      state.sounding = sounding;
    }
    if (leaves === undefined) markTooFine(shift((written[0] as Slot).span, place.lineStart));
    else playLeaves(leaves, place);
  }

  function playBar(written: BarText | undefined, bar: BarFrame, here: RowPlace): void {
    const inBar = written?.slots ?? noSlots;
    const only = inBar[0];
    let place = here;
    let last: Written = { slots: inBar, start: here.lineStart };
    if (inBar.length === 1 && only?.kind === "leaf" && only.content.kind === "sameBar") {
      const repeatedBy = shift(only.span, here.lineStart);
      if (state.last === undefined) {
        marks.push({ kind: "misplaced", row, span: repeatedBy, sign: "%", where: "first-bar" });
        fall("unread", { ...wholeBar(bar), content: only.content, span: only.span }, here);
        return;
      }
      last = state.last;
      place = { ...here, lineStart: last.start, repeatedBy };
    }
    const leaves = leavesOf(last.slots, bar.length);
    const first = leaves?.[0];
    if (leaves === undefined && written !== undefined) markTooFine(shift(written.span, here.lineStart));
    if (leaves === undefined || first === undefined) {
      fall("rest", { ...wholeBar(bar), span: written?.span ?? { start: 0, end: 0 } }, place);
    } else {
      const sign = signOfContinuing(first);
      if (sign !== undefined && state.kind !== "nothing") {
        continued.set(bar.index, { span: place.repeatedBy ?? shift(first.span, place.lineStart), sign });
      }
      playLeaves(leaves, place);
    }
    state.last = last;
  }

  function playLeaves(leaves: readonly Leaf[], place: RowPlace): void {
    /** What `=` repeats. */
    let target: Leaf | undefined;
    for (let i = 0; i < leaves.length; i++) {
      const leaf = leaves[i] as Leaf;
      const { content } = leaf;
      if (content.kind === "hold") hold(leaf, place);
      else if (content.kind === "again") again(leaf, target, place);
      else {
        if (content.kind === "stack") playStack(content, leaf, leaf, place);
        else fall(content.kind === "rest" ? "rest" : "unread", leaf, place);
        target = leaf;
      }
    }
  }

  /** The row falls silent, or into what nobody can read. */
  function fall(kind: "rest" | "unread", leaf: Leaf, place: RowPlace): void {
    state.kind = kind;
    state.sounding = silence;
    slots.push(new PlayedSlot(place, kind, leaf, leaf, undefined, undefined));
  }

  function hold(leaf: Leaf, place: RowPlace): void {
    if (state.kind === "nothing") {
      const span = shift(leaf.span, place.lineStart);
      marks.push({ kind: "nothing-to-hold", row, span, sign: "-", tone: undefined });
    }
    if (state.kind !== "sound") {
      fall(state.kind === "unread" ? "unread" : "rest", leaf, place);
      return;
    }
    const slot = new PlayedSlot(place, "hold", leaf, leaf, undefined, undefined);
    slots.push(slot);
    const { sounding } = state;
    if (sounding instanceof PlayedSlot) {
      state.lasted = plus(state.lasted, leaf.length);
      sounding.holdAll(state.lasted, slot);
      slot.holdsOn(sounding);
      return;
    }
    const longer = sounding.map((it) => lengthen(it, slot, "-", slot.span));
    state.sounding = longer;
    slot.held = notesOf(longer);
  }

  function again(leaf: Leaf, target: Leaf | undefined, place: RowPlace): void {
    if (target?.content.kind === "stack") {
      playStack(target.content, leaf, target, place);
      return;
    }
    if (target === undefined || target.content.kind === "rest") {
      const where = target === undefined ? "first" : "after-rest";
      marks.push({ kind: "misplaced", row, span: shift(leaf.span, place.lineStart), sign: "=", where });
    }
    fall("unread", leaf, place);
  }

  /** `target` is the slot that it is charged to: another than `leaf` for a `=`, which strikes every tone. */
  function playStack(stack: StackText, leaf: Leaf, target: Leaf, place: RowPlace): void {
    const at = plus(place.at, leaf.at);
    const pushed = stack.pushed !== undefined;
    const under = chordUnder(pushed, at, place);
    const { line } = place;
    const before = isPrinted ? placedBefore(stack, under.event?.chord, line, leaf.octaves) : undefined;
    const placed = before ?? placeAnew(stack, leaf, target, under, at, place);
    const slot = new PlayedSlot(place, "stack", leaf, target, under.event, placed);
    slots.push(slot);
    if (placed.tones.length > mostTones) mostTones = placed.tones.length;
    if (placed.tones.length === 0) {
      // All its tones lack their chord: that leaves nothing that could be judged.
      state.kind = "unread";
      state.sounding = silence;
      return;
    }
    if (placed.holds && leaf === target) state.sounding = holdOn(slot, placed);
    else {
      if (placed.least < lowest) lowest = placed.least;
      if (placed.most > highest) highest = placed.most;
      state.sounding = slot;
      state.lasted = leaf.length;
    }
    state.kind = "sound";
  }

  function placeAnew(
    stack: StackText,
    leaf: Leaf,
    target: Leaf,
    under: Under,
    at: Fraction,
    { line, lineStart }: RowPlace,
  ): PlacedStack {
    const place: StackPlace = {
      row,
      key: line.key,
      home: line.home,
      groupOctaves: leaf.octaves,
      under,
      pushed: stack.pushed !== undefined,
      stretch: under.event === undefined ? struckBefore(at) : 0,
      displacement,
      text,
      start: target.span.start + lineStart,
    };
    return placeStack(stack, place, marks);
  }

  /** A slot with tones that go on from before: what sounds then. */
  function holdOn(slot: PlayedSlot, { tones }: PlacedStack): readonly Sounding[] {
    const before = soundingIn(state);
    const now: Sounding[] = [];
    const struck: SoundingNote[] = [];
    const held: SoundingNote[] = [];
    for (const it of tones) {
      const { tone, pitch } = it;
      const holds = tone.held !== undefined;
      const found = holds ? before.find(({ note }) => note.pitch.midi === pitch.midi) : undefined;
      if (found !== undefined) {
        const span = shift(tone.span, slot.span.start);
        now.push(lengthen(found, slot, sliceOf(text, span), span));
        held.push(found.note);
        continue;
      }
      if (holds && state.kind !== "unread") markNotHeld(it, slot);
      const notes = strikeTone(slot, it);
      struck.push(...notes);
      for (const note of notes) if (!note.grace) now.push({ note, lasted: slot.length });
    }
    slot.struck = struck;
    slot.held = held;
    for (const { pitch } of struck) {
      lowest = Math.min(lowest, pitch.midi);
      highest = Math.max(highest, pitch.midi);
    }
    return now;
  }

  /** What the numbers of a slot count from. */
  function chordUnder(pushed: boolean, at: Fraction, { pickup, bar, line: { system } }: RowPlace): Under {
    if (pushed)
      return { event: nextChord(chords, layout, text, system, { at, pickup, bar }), unknown: false };
    return pickup ? chordInPickup(chords, system, at) : chordInBar(chords, bar, at);
  }

  function markTooFine(span: Span): void {
    marks.push({ kind: "too-fine", row, span });
  }

  function markNotHeld({ tone, pitch, lowest }: PlacedTone, slot: PlayedSlot): void {
    const nearby = soundingIn(state)
      .map(({ note }) => (note.pitch.midi - pitch.midi) / 12)
      .filter((octaves) => Number.isInteger(octaves));
    const { start } = slot.span;
    const signsAt = start + (tone.held as Span).end;
    const span = shift(tone.span, start);
    marks.push({ kind: "nothing-to-hold", row, span, sign: "_", tone: { pitch, signsAt, lowest, nearby } });
  }

  function lengthen(
    { note, lasted }: Sounding,
    { at, length }: PlayedSlot,
    held: string,
    span: Span,
  ): Sounding {
    const now = plus(lasted, length);
    note.hold(longest(note.length, now), { at, length, text: held, span });
    return { note, lasted: now };
  }

  function struckBefore(at: Fraction): number {
    return chords.events.filter((event) => compare(event.at, at) <= 0).length;
  }

  /** Marks what would sound differently each time the repeat that ends with this bar comes round. */
  function compareWithStart(bar: BarFrame): void {
    const start = continued.get(passes.startBar);
    const before = passes.beforeStart;
    if (start !== undefined && before !== undefined && before.kind !== "unread" && state.kind !== "unread") {
      const [first, again] = [keysOf(soundingIn(before)), keysOf(soundingIn(state))];
      if (first !== again) marks.push({ kind: "repeat-differs", row, ...start, first, again });
    }
    const goesBackTo = chords.events.find((event) => event.bar >= passes.startBar && !event.pickup);
    if (goesBackTo === undefined) return;
    for (const slot of slots) {
      if (!slot.pushed || slot.bar !== bar.index || slot.chord === undefined || slot.chord.bar <= bar.index)
        continue;
      const { root, bass } = slot.chord.chord;
      if (root === goesBackTo.chord.root && bass === goesBackTo.chord.bass) continue;
      marks.push({
        kind: "repeat-differs",
        row,
        span: slot.span,
        sign: "!",
        first: goesBackTo.text,
        again: slot.chord.text,
      });
    }
  }
}

/** A slot as long as its bar, for a bar without any. */
const wholeBar = ({ length }: BarFrame): Omit<Leaf, "span"> => ({
  content: { kind: "rest" },
  at: zero,
  length,
  octaves: 0,
});

const keysOf = (sounding: readonly Sounding[]): string =>
  sounding.length === 0 ? "a rest" : sounding.map(({ note }) => prettyPitch(note.pitch)).join(" ");

function signOfContinuing({ content }: Leaf): "-" | "_" | undefined {
  if (content.kind === "hold") return "-";
  return content.kind === "stack" && content.tones.some(({ held }) => held !== undefined) ? "_" : undefined;
}
