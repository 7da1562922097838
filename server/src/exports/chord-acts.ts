import { leavesOf } from "../chart/bar-time.js";
import { pickupLength, rowIn } from "../chart/layout.js";
import type { Bar, ChordEvent, Leaf, Section, System } from "../chart/model.js";
import { type Fraction, fraction, isEqual, minus, plus, zero } from "../theory/fraction.js";

/** What the chord row does at a place: it strikes a chord, goes on, or falls silent (`r`, `NC`, and what can't be read). */
export interface ChordAct {
  readonly kind: "strike" | "hold" | "silence";
  /** From its bar's start; negative in a pickup. */
  readonly at: Fraction;
  /** The chord that is struck. */
  readonly event: ChordEvent | undefined;
}

/** A bar that a `%` may repeat. */
interface Repeated {
  readonly acts: readonly ChordAct[];
  readonly length: Fraction;
}

/** What the chord row does in each bar of a section, and in the pickup to a bar. A bar without acts goes on. */
export function chordActs(section: Section): {
  readonly bars: readonly (readonly ChordAct[])[];
  readonly pickups: ReadonlyMap<number, readonly ChordAct[]>;
} {
  const [inBars, inPickups] = [eventsByBar(section, false), eventsByBar(section, true)];
  const bars: (readonly ChordAct[])[] = [];
  const pickups = new Map<number, readonly ChordAct[]>();
  let before: Repeated | undefined;
  let beforeFirstEnding: Repeated | undefined;
  for (const system of section.systems) {
    const row = rowIn(system, "chords");
    for (let index = system.firstBar; index < system.endBar; index++) {
      const bar = section.bars[index] as Bar;
      const { ending } = bar.repeat;
      if (ending === 1) beforeFirstEnding = before;
      else if (ending === 2) before = beforeFirstEnding ?? before;
      if (row === undefined) {
        bars.push([silent(zero)]);
        continue;
      }
      const slots = row.line.bars[index - system.firstBar]?.slots ?? [];
      const leaves = leavesOf(slots, bar.length) ?? [];
      const events = inBars.get(index) ?? [];
      const acts = isSameBar(leaves) ? repeated(before, events, bar) : written(leaves, events, bar);
      bars.push(acts);
      before = { acts, length: bar.length };
    }
    const pickup = pickupActs(section, system, inPickups);
    if (pickup !== undefined) pickups.set(system.firstBar, pickup);
  }
  return { bars, pickups };
}

const silent = (at: Fraction): ChordAct => ({ kind: "silence", at, event: undefined });

const isSameBar = (leaves: readonly Leaf[]): boolean =>
  leaves.length === 1 && leaves[0]?.content.kind === "sameBar";

function eventsByBar({ chords }: Section, pickup: boolean): ReadonlyMap<number, readonly ChordEvent[]> {
  const events = new Map<number, ChordEvent[]>();
  for (const event of chords) {
    if (event.pickup !== pickup) continue;
    const there = events.get(event.bar);
    if (there === undefined) events.set(event.bar, [event]);
    else there.push(event);
  }
  return events;
}

function written(
  leaves: readonly Leaf[],
  events: readonly ChordEvent[],
  { at: start }: Pick<Bar, "at">,
): readonly ChordAct[] {
  return leaves.map(({ content, at }): ChordAct => {
    if (content.kind === "hold") return { kind: "hold", at, event: undefined };
    const place = plus(start, at);
    const event = events.find((it) => isEqual(it.at, place));
    return event === undefined ? silent(at) : { kind: "strike", at, event };
  });
}

/** `%` strikes anew what sounded in the bar before it; what was silent there is so again. */
function repeated(
  before: Repeated | undefined,
  events: readonly ChordEvent[],
  bar: Bar,
): readonly ChordAct[] {
  const acts = events.map((event): ChordAct => ({ kind: "strike", at: minus(event.at, bar.at), event }));
  if (acts[0]?.at.n !== 0) acts.unshift(silent(zero));
  for (const { kind, at } of before?.acts ?? []) {
    const there = scaled(at, before?.length ?? bar.length, bar.length);
    if (kind === "silence" && there.n !== 0) acts.push(silent(there));
  }
  return acts.sort((a, b) => a.at.n * b.at.d - b.at.n * a.at.d);
}

const scaled = (at: Fraction, from: Fraction, to: Fraction): Fraction =>
  isEqual(from, to) ? at : fraction(at.n * from.d * to.n, at.d * from.n * to.d);

function pickupActs(
  section: Section,
  system: System,
  events: ReadonlyMap<number, readonly ChordEvent[]>,
): readonly ChordAct[] | undefined {
  const row = rowIn(system, "chords");
  const bar = section.bars[system.firstBar];
  if (row === undefined || row.line.pickup.length === 0 || bar === undefined) return undefined;
  const length = pickupLength(row.line, system.meter);
  const leaves = leavesOf(row.line.pickup, length) ?? [];
  const start = { at: minus(bar.at, length) };
  return written(leaves, events.get(system.firstBar) ?? [], start).map((act) => ({
    ...act,
    at: minus(act.at, length),
  }));
}
