import type { PitchedRow, Slot, StackText } from "../syntax/tree.js";
import { type Span, shift, sliceOf } from "../text/span.js";
import { compare, type Fraction, minus, plus, times, zero } from "../theory/fraction.js";
import { pitchAt, prettyPitch } from "../theory/pitch.js";
import { beatLength, leavesOf } from "./bar-time.js";
import type { ChordTimeline } from "./chord-row.js";
import { chordInBar, chordInPickup, nextChord } from "./counting-chord.js";
import { handOf, homeOctave } from "./home-octave.js";
import { type BarFrame, type Layout, longest, rowIn } from "./layout.js";
import type {
  Displacement,
  Hand,
  HeldSlot,
  Leaf,
  Mark,
  Note,
  RowEvents,
  SlotEvent,
  System,
} from "./model.js";
import { enterBar, noPasses, type Passes } from "./passes.js";
import { type PlacedTone, placeStack } from "./stack.js";

type GrowingNote = { -readonly [K in keyof Note]: Note[K] } & { heldBy: HeldSlot[] };

/** A note that sounds, and how long it has done so in this pass. */
interface Sounding {
  readonly note: GrowingNote;
  readonly lasted: Fraction;
}

/** The text of a bar, and where its line starts. */
interface Written {
  readonly slots: readonly Slot[];
  readonly start: number;
}

interface State {
  readonly kind: "nothing" | "rest" | "sound" | "unread";
  readonly sounding: readonly Sounding[];
  /** The row's last written bar, for `%`. */
  readonly last: Written | undefined;
}

/** Where a slot stands, apart from its time. */
interface Place {
  readonly system: System;
  readonly bar: number;
  readonly pickup: boolean;
  /** The lowest key of the row's home octave. */
  readonly home: number;
  readonly hand: Hand | undefined;
  readonly repeatedBy: Span | undefined;
}

/** A slot with its time, the text that it is charged to and the octave signs around it. */
interface Timed {
  readonly at: Fraction;
  readonly length: Fraction;
  readonly span: Span;
  readonly written: Span;
  readonly octaves: number;
}

const silence: readonly Sounding[] = [];
const noNotes: readonly Note[] = [];

/** One pitched row through a section: every slot with its keys, held tones joined. */
export function resolveRow(
  row: PitchedRow,
  layout: Layout,
  text: string,
  displacement: Displacement,
  chords: ChordTimeline,
  marks: Mark[],
): RowEvents {
  const slots: SlotEvent[] = [];
  const notes: GrowingNote[] = [];
  /** Where a bar goes on with the tones before it, for the repeats that come back there. */
  const continued = new Map<number, { readonly span: Span; readonly sign: "-" | "_" }>();
  let state: State = { kind: "nothing", sounding: silence, last: undefined };
  let passes: Passes<State> = noPasses;
  let from: number | undefined;

  for (const system of layout.systems) {
    const written = rowIn(system, row);
    if (written === undefined) {
      for (let i = system.firstBar; i < system.endBar; i++) {
        ({ passes, state } = enterBar(passes, layout.bars[i] as BarFrame, state));
        state = { ...state, kind: "rest", sounding: silence };
      }
      continue;
    }
    const { line, start } = written;
    if (line.from?.pitch.octave !== undefined) {
      from = pitchAt(line.from.pitch.fifths, line.from.pitch.octave).midi + displacement.halfSteps;
    }
    const place = {
      system,
      home: from ?? homeOctave(row, system.home.one),
      hand: handOf(row, system.rows),
      repeatedBy: undefined,
    };
    if (line.pickup.length > 0)
      playPickup({ slots: line.pickup, start }, { ...place, bar: system.firstBar, pickup: true });
    for (let i = system.firstBar; i < system.endBar; i++) {
      const bar = layout.bars[i] as BarFrame;
      ({ passes, state } = enterBar(passes, bar, state));
      playBar(line.bars[i - system.firstBar], start, bar, { ...place, bar: i, pickup: false });
      if (bar.repeat.end) compareWithStart(bar);
    }
  }
  return { slots, notes };

  function playPickup({ slots, start }: Written, place: Place): void {
    const length = times(beatLength(place.system.meter), slots.length);
    const at = minus(layout.bars[place.bar]?.at ?? layout.length, length);
    const leaves = leavesOf(slots, length, start);
    if (leaves?.[0]?.content.kind === "hold") {
      // What the row sounds just before the pickup, in the bar that it covers.
      const sounding = notes
        .filter((it) => !it.grace && compare(it.at, at) < 0 && compare(plus(it.at, it.length), at) >= 0)
        .map((note) => ({ note, lasted: minus(at, note.at) }));
      state = { ...state, kind: sounding.length > 0 ? "sound" : "rest", sounding };
    }
    if (leaves === undefined) {
      marks.push({ kind: "too-fine", row, span: shift((slots[0] as Slot).span, start) });
    } else playLeaves(leaves, at, place);
  }

  function playBar(
    written: { readonly slots: readonly Slot[]; readonly span: Span } | undefined,
    start: number,
    bar: BarFrame,
    here: Place,
  ): void {
    const span = written === undefined ? { start, end: start } : shift(written.span, start);
    const [only, second] = written?.slots ?? [];
    const isSame = second === undefined && only?.kind === "leaf" && only.content.kind === "sameBar";
    if (isSame && state.last === undefined) {
      marks.push({ kind: "misplaced", row, span: shift(only.span, start), sign: "%", where: "first-bar" });
      state = { ...state, kind: "unread", sounding: silence };
      addSlot("unread", { at: bar.at, length: bar.length, span, written: span, octaves: 0 }, here);
      return;
    }
    const last = isSame && state.last !== undefined ? state.last : { slots: written?.slots ?? [], start };
    const place = isSame ? { ...here, repeatedBy: shift(only.span, start) } : here;
    const leaves = leavesOf(last.slots, bar.length, last.start);
    const first = leaves?.[0];
    if (leaves === undefined) marks.push({ kind: "too-fine", row, span });
    if (leaves === undefined || first === undefined) {
      state = { kind: "rest", sounding: silence, last: written === undefined ? state.last : last };
      addSlot("rest", { at: bar.at, length: bar.length, span, written: span, octaves: 0 }, place);
      return;
    }
    const sign = signOfContinuing(first);
    if (sign !== undefined && state.kind !== "nothing") {
      continued.set(bar.index, { span: place.repeatedBy ?? first.span, sign });
    }
    playLeaves(leaves, bar.at, place);
    state = { ...state, last };
  }

  function playLeaves(leaves: readonly Leaf[], start: Fraction, place: Place): void {
    /** What `=` repeats. */
    let again: Leaf | undefined;
    for (const { content, span, at, length, octaves } of leaves) {
      const timed = { at: plus(start, at), length, span, written: span, octaves };
      switch (content.kind) {
        case "hold":
          hold(timed, place);
          break;
        case "again":
          if (again?.content.kind === "stack") {
            const repeated = { ...timed, span: again.span };
            playStack(again.content, repeated, { ...place, repeatedBy: place.repeatedBy ?? span }, true);
          } else {
            if (again === undefined || again.content.kind === "rest") {
              marks.push({
                kind: "misplaced",
                row,
                span,
                sign: "=",
                where: again === undefined ? "first" : "after-rest",
              });
            }
            unread(timed, place);
          }
          break;
        case "stack":
          playStack(content, timed, place, false);
          again = { content, span, at, length, octaves };
          break;
        case "rest":
          state = { ...state, kind: "rest", sounding: silence };
          addSlot("rest", timed, place);
          again = { content, span, at, length, octaves };
          break;
        default:
          unread(timed, place);
          again = { content, span, at, length, octaves };
      }
    }
  }

  function unread(timed: Timed, place: Place): void {
    state = { ...state, kind: "unread", sounding: silence };
    addSlot("unread", timed, place);
  }

  function hold(timed: Timed, place: Place): void {
    if (state.kind === "nothing") {
      marks.push({ kind: "nothing-to-hold", row, span: timed.span, sign: "-", tone: undefined });
      state = { ...state, kind: "rest" };
    }
    if (state.kind !== "sound") {
      addSlot(state.kind === "unread" ? "unread" : "rest", timed, place);
      return;
    }
    const sounding = state.sounding.map((it) => lengthen(it, timed, "-", timed.span));
    state = { ...state, sounding };
    addSlot("hold", timed, place, { held: sounding.map(({ note }) => note) });
  }

  function playStack(stack: StackText, timed: Timed, place: Place, strikeAll: boolean): void {
    const { system, bar, pickup, hand, home, repeatedBy } = place;
    const { at, length, span } = timed;
    const { key } = system.home;
    const pushed = stack.pushed !== undefined;
    const under = pushed
      ? { event: nextChord(chords, layout, text, system, { at, pickup }), unknown: false }
      : pickup
        ? chordInPickup(chords, system, at)
        : chordInBar(chords, bar, at);
    const placed = placeStack(
      stack,
      {
        row,
        key,
        home,
        groupOctaves: timed.octaves,
        under,
        pushed,
        stretch: under.event === undefined ? struckBefore(at) : 0,
        displacement,
        text,
        start: span.start,
      },
      marks,
    );
    const struck: GrowingNote[] = [];
    const held: GrowingNote[] = [];
    const sounding: Sounding[] = [];
    for (const it of placed) {
      const found =
        it.tone.held === undefined || strikeAll
          ? undefined
          : state.sounding.find(({ note }) => note.pitch.midi === it.pitch.midi);
      if (found !== undefined) {
        held.push(found.note);
        sounding.push(lengthen(found, timed, sliceOf(text, it.span), it.span));
        continue;
      }
      if (it.tone.held !== undefined && !strikeAll && state.kind !== "unread") markNotHeld(it);
      const note: GrowingNote = {
        row,
        hand,
        text: sliceOf(text, it.span),
        tone: it.tone,
        pitch: it.pitch,
        chord: under.event,
        key,
        system: system.index,
        bar,
        pickup,
        at,
        length,
        rolled: stack.rolled !== undefined,
        grace: false,
        pushed,
        heldBy: [],
        span: it.span,
        repeatedBy,
      };
      if (it.grace !== undefined) {
        const { pitch, span } = it.grace;
        struck.push({
          ...note,
          text: sliceOf(text, span),
          pitch,
          length: zero,
          rolled: false,
          grace: true,
          heldBy: [],
          span,
        });
      }
      struck.push(note);
      sounding.push({ note, lasted: length });
    }
    notes.push(...struck);
    // A stack whose tones all lack their chord leaves nothing that could be judged.
    state = { ...state, kind: sounding.length > 0 ? "sound" : "unread", sounding };
    addSlot(
      "stack",
      timed,
      { ...place, repeatedBy },
      { struck, held, rolled: stack.rolled !== undefined, pushed, chord: under.event },
    );
  }

  function markNotHeld({ tone, pitch, span, lowest }: PlacedTone): void {
    const nearby = state.sounding
      .map(({ note }) => (note.pitch.midi - pitch.midi) / 12)
      .filter((octaves) => Number.isInteger(octaves));
    const signsAt = span.start + ((tone.held as Span).end - tone.span.start);
    marks.push({ kind: "nothing-to-hold", row, span, sign: "_", tone: { pitch, signsAt, lowest, nearby } });
  }

  function lengthen({ note, lasted }: Sounding, { at, length }: Timed, held: string, span: Span): Sounding {
    const now = plus(lasted, length);
    note.length = longest(note.length, now);
    note.heldBy.push({ at, length, text: held, span });
    return { note, lasted: now };
  }

  function struckBefore(at: Fraction): number {
    return chords.events.filter((event) => compare(event.at, at) <= 0).length;
  }

  function addSlot(
    kind: SlotEvent["kind"],
    { at, length, span, written }: Timed,
    { hand, system, bar, pickup, repeatedBy }: Place,
    more: Partial<Pick<SlotEvent, "struck" | "held" | "rolled" | "pushed" | "chord">> = {},
  ): void {
    slots.push({
      row,
      hand,
      kind,
      system: system.index,
      bar,
      pickup,
      at,
      length,
      rolled: more.rolled ?? false,
      pushed: more.pushed ?? false,
      chord: more.chord,
      struck: more.struck ?? noNotes,
      held: more.held ?? noNotes,
      span,
      written,
      repeatedBy,
    });
  }

  /** Marks what would sound differently each time the repeat that ends with this bar comes round. */
  function compareWithStart(bar: BarFrame): void {
    const start = continued.get(passes.startBar);
    const before = passes.beforeStart;
    if (start !== undefined && before !== undefined && before.kind !== "unread" && state.kind !== "unread") {
      const [first, again] = [keysOf(before.sounding), keysOf(state.sounding)];
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

const keysOf = (sounding: readonly Sounding[]): string =>
  sounding.length === 0 ? "a rest" : sounding.map(({ note }) => prettyPitch(note.pitch)).join(" ");

function signOfContinuing({ content }: Leaf): "-" | "_" | undefined {
  if (content.kind === "hold") return "-";
  return content.kind === "stack" && content.tones.some(({ held }) => held !== undefined) ? "_" : undefined;
}
