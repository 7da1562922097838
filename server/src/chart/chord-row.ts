import { type Span, shift } from "../text/span.js";
import type { Chord } from "../theory/chord.js";
import { compare, type Fraction, fraction, isEqual, minus, plus, times, zero } from "../theory/fraction.js";
import { beatLength, leavesOf } from "./bar-time.js";
import { bassName, chordOf } from "./chord-text.js";
import { type BarFrame, type Layout, longest, rowIn } from "./layout.js";
import type { ChordEvent, Displacement, Leaf, Mark, System, SystemRow } from "./model.js";
import { enterBar, noPasses, type Passes } from "./passes.js";
import { StruckChord } from "./struck-chord.js";

/** From `at` on numbers count from this chord: `undefined` where there is none, `unknown` where it can't be read. */
export interface Counting {
  readonly at: Fraction;
  readonly event: ChordEvent | undefined;
  readonly unknown: boolean;
}

export interface ChordTimeline {
  readonly events: readonly ChordEvent[];
  /** For each bar, from its start on. */
  readonly bars: readonly (readonly Counting[])[];
  /** For each system, what its chord pickup strikes; empty where it strikes nothing. */
  readonly pickups: readonly (readonly Counting[])[];
  readonly marks: readonly Mark[];
}

/** What happens in the row at one place; a chord's slot counts from the start of its line. */
type Act =
  | {
      readonly kind: "strike";
      readonly chord: Chord;
      readonly bassAlone: boolean;
      readonly slot: Span;
      readonly lineStart: number;
    }
  | { readonly kind: "hold" | "silence" | "none" | "unknown" };

/** An act with its place from the bar's start, for a `%` after it. */
interface Played {
  readonly act: Act;
  readonly offset: Fraction;
}

const silent: Act = { kind: "silence" };
const unknownBar: Played = { act: { kind: "unknown" }, offset: zero };

interface State {
  /** The chord that sounds, and how long it has done so in this pass. */
  sounding: StruckChord | undefined;
  lasted: Fraction;
  counting: ChordEvent | undefined;
  unknown: boolean;
  /** Nothing has stood in this row before. */
  fresh: boolean;
  /** What a bass alone puts its bass under. */
  last: ChordEvent | "unknown" | undefined;
  /** What the bar before played, for `%`. */
  played: { readonly acts: readonly Played[]; readonly length: Fraction } | undefined;
}

const start: Readonly<State> = {
  sounding: undefined,
  lasted: zero,
  counting: undefined,
  unknown: false,
  fresh: true,
  last: undefined,
  played: undefined,
};

/** The chords of a section with their times. Where no row gives any, numbers count from nothing. */
export function resolveChords(layout: Layout, text: string, displacement: Displacement): ChordTimeline {
  const events: StruckChord[] = [];
  const marks: Mark[] = [];
  const bars: (readonly Counting[])[] = [];
  const pickups: (readonly Counting[])[] = [];
  /** Where a bar goes on with the chord before it, for the repeats that come back there. */
  const continued = new Map<number, Span>();
  // One object, changed as the row goes on: there would be one for every chord.
  let state: State = { ...start };
  let passes: Passes<Readonly<State>> = noPasses;
  // What a bar plays is kept for a `%` after it, which few charts have.
  const hasSameBar = text.includes("%");

  for (const system of layout.systems) {
    const row = rowIn(system, "chords");
    pickups.push(row === undefined ? [] : playPickup(system, row));
    for (let i = system.firstBar; i < system.endBar; i++) {
      const bar = layout.bars[i] as BarFrame;
      if (layout.repeats) {
        const entered = enterBar(passes, bar, { ...state });
        passes = entered.passes;
        state = { ...entered.state };
      }
      if (row === undefined) {
        // Perhaps the row that can't be read is its chords.
        const unknown = system.unread;
        state.sounding = undefined;
        state.counting = undefined;
        state.unknown = unknown;
        state.fresh = false;
        bars.push([{ at: bar.at, event: undefined, unknown }]);
        continue;
      }
      bars.push(playBar(system, row, bar));
      if (bar.repeat.end) compareWithStart();
    }
  }
  return { events, bars, pickups, marks };

  function playPickup(system: System, { line, start }: SystemRow): readonly Counting[] {
    const counting: Counting[] = [];
    if (line.pickup.length === 0) return counting;
    const length = times(beatLength(system.meter), line.pickup.length);
    const leaves = leavesOf(line.pickup, length);
    const from = minus(layout.bars[system.firstBar]?.at ?? layout.length, length);
    if (leaves?.[0]?.content.kind === "hold") reachBack(system.firstBar - 1, from, leaves[0].span, start);
    for (const leaf of leaves ?? []) {
      const at = plus(from, leaf.at);
      perform(actOf(leaf, start, system), at, leaf.length, system, system.firstBar, true);
      counting.push({ at, event: state.counting, unknown: state.unknown });
    }
    return counting;
  }

  /** A pickup that starts with `/` goes on with what sounded just before it, in the bar that it covers. */
  function reachBack(bar: number, from: Fraction, span: Span, lineStart: number): void {
    if (state.fresh) {
      markNothing(span, lineStart);
      state.unknown = true;
      state.fresh = false;
      return;
    }
    const list = bars[bar] ?? [];
    const before = list.findLast(({ at }) => compare(at, from) < 0) ?? list[0];
    const event = events[before?.event?.index ?? -1];
    const sounds = event !== undefined && compare(plus(event.at, event.length), from) >= 0;
    state.sounding = sounds ? event : undefined;
    state.lasted = sounds ? minus(from, event.at) : zero;
    state.counting = event;
    state.unknown = before?.unknown ?? false;
  }

  function markNothing(span: Span, lineStart: number): void {
    const at = shift(span, lineStart);
    marks.push({ kind: "nothing-to-hold", row: "chords", span: at, sign: "/", tone: undefined });
  }

  function playBar(system: System, { line, start }: SystemRow, bar: BarFrame): readonly Counting[] {
    const counting: Counting[] = [{ at: bar.at, event: state.counting, unknown: state.unknown }];
    const written = line.bars[bar.index - system.firstBar];
    const leaves = written === undefined ? [] : leavesOf(written.slots, bar.length);
    const first = leaves?.[0];
    const carried = hasSameBar ? carriedIn(state) : silent;
    const acts: Played[] = [];
    const play = (act: Act, offset: Fraction, length: Fraction, repeatedBy?: Span): void => {
      const at = plus(bar.at, offset);
      perform(act, at, length, system, bar.index, false, repeatedBy);
      counting.push({ at, event: state.counting, unknown: state.unknown });
      if (!hasSameBar) return;
      if (act.kind !== "hold") acts.push({ act, offset });
      else if (offset.n === 0) acts.push({ act: carried, offset });
    };
    if (leaves === undefined && written !== undefined) {
      marks.push({ kind: "too-fine", row: "chords", span: shift(written.span, start) });
    }
    if (written !== undefined && !state.fresh && (first === undefined || first.content.kind === "hold")) {
      continued.set(bar.index, shift(first?.span ?? written.span, start));
    }
    if (first?.content.kind === "sameBar" && leaves?.length === 1) {
      const sign = shift(first.span, start);
      if (state.played === undefined) {
        marks.push({ kind: "misplaced", row: "chords", span: sign, sign: "%", where: "first-bar" });
      }
      const { acts: again, length } = state.played ?? { acts: [unknownBar], length: bar.length };
      for (let k = 0; k < again.length; k++) {
        const { act, offset } = again[k] as Played;
        const from = scale(offset, length, bar.length);
        const to = scale(again[k + 1]?.offset ?? length, length, bar.length);
        play(act, from, minus(to, from), sign);
      }
    } else if (leaves === undefined || first === undefined) play({ kind: "hold" }, zero, bar.length);
    else {
      for (const leaf of leaves) {
        if (leaf.content.kind === "hold" && state.fresh) markNothing(leaf.span, start);
        play(actOf(leaf, start, system), leaf.at, leaf.length);
      }
    }
    if (hasSameBar) state.played = { acts, length: bar.length };
    return counting;
  }

  function actOf({ content, span: slot }: Leaf, lineStart: number, system: System): Act {
    const { key } = system.home;
    const at = slot.start + lineStart;
    switch (content.kind) {
      case "chord": {
        const chord = chordOf(content, key, displacement, at, marks);
        return { kind: "strike", chord, bassAlone: false, slot, lineStart };
      }
      case "bass": {
        const before = state.last;
        if (before === undefined) {
          const span = shift(slot, lineStart);
          marks.push({ kind: "nothing-to-hold", row: "chords", span, sign: "bass", tone: undefined });
        }
        if (before === undefined || before === "unknown") return { kind: "unknown" };
        const bass = bassName(content.bass, key, displacement, at, marks);
        return { kind: "strike", chord: { ...before.chord, bass }, bassAlone: true, slot, lineStart };
      }
      case "hold":
        return { kind: "hold" };
      case "rest":
        return { kind: "silence" };
      case "noChord":
        return { kind: "none" };
      default:
        return { kind: "unknown" };
    }
  }

  function perform(
    act: Act,
    at: Fraction,
    length: Fraction,
    { home: { key } }: System,
    bar: number,
    pickup: boolean,
    repeatedBy?: Span,
  ): void {
    switch (act.kind) {
      case "strike": {
        const { chord, bassAlone, slot, lineStart } = act;
        const index = events.length;
        const event = new StruckChord(
          index,
          chord,
          bassAlone,
          key,
          bar,
          pickup,
          at,
          length,
          slot,
          lineStart,
          repeatedBy,
          text,
        );
        events.push(event);
        state.sounding = event;
        state.lasted = length;
        state.counting = event;
        state.unknown = false;
        state.last = event;
        break;
      }
      case "hold":
        if (state.sounding === undefined) {
          if (pickup) return;
          break;
        }
        state.lasted = plus(state.lasted, length);
        state.sounding.length = longest(state.sounding.length, state.lasted);
        return;
      case "silence":
        state.sounding = undefined;
        break;
      case "none":
        state.sounding = undefined;
        state.counting = undefined;
        state.unknown = false;
        break;
      case "unknown":
        state.sounding = undefined;
        state.counting = undefined;
        state.unknown = true;
        state.last = "unknown";
    }
    state.fresh = false;
  }

  /** A bar that goes on with the chord before it would go on with another when the repeat comes back. */
  function compareWithStart(): void {
    const span = continued.get(passes.startBar);
    const first = passes.beforeStart?.counting;
    const again = state.counting;
    if (span === undefined || isSame(first, again) || state.unknown || passes.beforeStart?.unknown) return;
    const [one, two] = [first?.text ?? "NC", again?.text ?? "NC"];
    marks.push({ kind: "repeat-differs", row: "chords", span, sign: "/", first: one, again: two });
  }
}

/** A place in a bar of one length, in a bar of another. */
const scale = (offset: Fraction, from: Fraction, to: Fraction): Fraction =>
  isEqual(from, to) ? offset : fraction(offset.n * from.d * to.n, offset.d * from.n * to.d);

/** What is held into a bar, as an act at its start. */
function carriedIn({ sounding, unknown, counting }: Readonly<State>): Act {
  if (sounding !== undefined) {
    const { chord, bassAlone, slot, lineStart } = sounding;
    return { kind: "strike", chord, bassAlone, slot, lineStart };
  }
  if (unknown) return { kind: "unknown" };
  return { kind: counting === undefined ? "none" : "silence" };
}

const isSame = (a: ChordEvent | undefined, b: ChordEvent | undefined): boolean =>
  a === b ||
  (a !== undefined &&
    b !== undefined &&
    a.chord.root === b.chord.root &&
    a.chord.bass === b.chord.bass &&
    a.chord.quality.symbol === b.chord.quality.symbol);

/** What numbers count from at a time, in a list in order of time. */
export function countingAt(list: readonly Counting[], at: Fraction): Counting | undefined {
  for (let i = list.length - 1; i >= 0; i--) {
    const it = list[i] as Counting;
    if (compare(it.at, at) <= 0) return it;
  }
  return undefined;
}
