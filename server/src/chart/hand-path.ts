import type { Hand } from "../keyboard/hand.js";
import { placeOf } from "../keyboard/key-place.js";
import { highestKey, lowestKey } from "../keyboard/keyboard-range.js";
import { alwaysCovered, travelTime } from "../keyboard/leap.js";
import { leastRollStep } from "../keyboard/roll.js";
import type { PitchedRow } from "../syntax/tree.js";
import { type Fraction, minus, over } from "../theory/fraction.js";
import { barLength, beatLength } from "./bar-time.js";
import { handOf } from "./home-octave.js";
import { rowIn } from "./layout.js";
import { lineShape } from "./line-shape.js";
import type { Bar, Meter, Section, SlotEvent } from "./model.js";
import { strikes } from "./strikes.js";
import { writtenOut } from "./unfold.js";

/** A hand's way from one slot that it strikes to the next one. */
export interface HandMove {
  readonly from: SlotEvent;
  readonly to: SlotEvent;
  /** From the start of the one to the start of the other. */
  readonly milliseconds: number;
}

/** A slot that a hand strikes, so far after a time or before it. */
export interface Strike {
  readonly slot: SlotEvent;
  readonly milliseconds: number;
}

/** What a hand has struck one after the other. */
export interface Strikes {
  readonly slots: SlotEvent[];
  /** In milliseconds, ascending. */
  readonly times: number[];
  /** What was first moved there. */
  readonly moves: (HandMove | undefined)[];
  /** Where the music has got to on the same clock. */
  now: number;
}

/** How one hand moves through a section as it is played, where it has little time. */
export interface HandPath {
  /** Each once, those into endings and back to the start of a repeat too. */
  readonly moves: readonly HandMove[];
  readonly rolls: readonly SlotEvent[];
  /**
   * What is struck first from a bar on, counted from its bar line (below 0 in a pickup): by the section's first bar and
   * those before which another section is played.
   */
  readonly entries: ReadonlyMap<number, Strike>;
  /** What is struck before a bar at which another section comes in, and before the section's end (its number of bars). */
  readonly exits: ReadonlyMap<number, Strikes>;
}

/** No way on the keyboard takes longer. */
const longestTravel = travelTime(placeOf(highestKey) - placeOf(lowestKey));
/** No roll of as many tones as a hand has fingers takes longer. */
const longestRoll = 5 * longestTravel;

/** Whether a hand has so little time to leave a slot that its way may be too far. */
const isQuick = ({ slot: { rolled }, milliseconds }: Strike): boolean =>
  milliseconds < longestTravel + (rolled ? longestRoll : 0);

const nowhere: HandPath = { moves: [], rolls: [], entries: new Map(), exits: new Map() };
const known = new WeakMap<Section, Partial<Record<Hand, HandPath>>>();

/** How a hand moves through a section. Where no tempo is said nothing is known of it. */
export function handPath(section: Section, hand: Hand): HandPath {
  const paths = known.get(section) ?? {};
  known.set(section, paths);
  paths[hand] ??= hasTempo(section) ? pathOf(section, hand) : nowhere;
  return paths[hand];
}

const hasTempo = ({ systems }: Section): boolean => systems.some(({ tempo }) => tempo !== undefined);

/**
 * Whether a hand may have little time anywhere in a section, by the lengths of its slots alone: in most it has not, and
 * there is no need to follow it.
 */
export function mayHurry(section: Section, hand: Hand): boolean {
  const before = knownHurry.get(section) ?? {};
  knownHurry.set(section, before);
  before[hand] ??= hasTempo(section) && hasShortSlot(section, hand);
  return before[hand];
}

const knownHurry = new WeakMap<Section, Partial<Record<Hand, boolean>>>();

/** Whether a row that a hand plays may have a short slot, by what its lines look like: most are told apart by that. */
function mayBeShort({ systems }: Section, row: PitchedRow, hand: Hand): boolean {
  for (const system of systems) {
    const written = rowIn(system, row);
    if (written === undefined || system.tempo === undefined || handOf(row, system.rows) !== hand) continue;
    const { isWrittenOut, hasRoll, finest } = lineShape(written.line);
    if (!isWrittenOut || hasRoll) return true;
    const least = over(barLength(system.meter), finest);
    if (millisecondsOf(least, wholeAt(system.tempo, system.meter)) < longestTravel) return true;
  }
  return false;
}

function hasShortSlot(section: Section, hand: Hand): boolean {
  for (const row of [ownRow[hand], melodyRow[hand]]) {
    if (!mayBeShort(section, row, hand)) continue;
    let bar = -1;
    let whole: number | undefined;
    for (const slot of section.rows[row].slots) {
      if (slot.bar !== bar) {
        bar = slot.bar;
        // The pickup of a system without a bar leads nowhere.
        const there = section.bars[bar];
        whole = there && wholeNote(section, there);
      }
      if (whole === undefined || slot.kind !== "stack" || slot.hand !== hand) continue;
      const milliseconds = millisecondsOf(slot.length, whole);
      if (slot.pickup || milliseconds < longestTravel) return true;
      if (slot.rolled && isShortForRoll(slot, Math.min(milliseconds, beatOf(section, slot)))) return true;
    }
  }
  return false;
}

const beatOf = (section: Section, { bar }: SlotEvent): number => {
  const there = section.bars[bar] as Bar;
  return lasting(beatLength(there.meter), section, there) ?? 0;
};

/** Whether half of a time may be too short for a roll, or the other half for the longest way. */
function isShortForRoll(slot: SlotEvent, milliseconds: number): boolean {
  if (milliseconds < 2 * longestTravel) return true;
  let longest = 0;
  let before: number | undefined;
  for (const { pitch, grace } of slot.struck) {
    if (grace) continue;
    if (before !== undefined)
      longest += Math.abs(pitch.midi - before) <= alwaysCovered ? leastRollStep : longestTravel;
    before = pitch.midi;
  }
  return milliseconds < 2 * longest;
}

const knownHaste = new WeakMap<Section, boolean>();

/** Whether a hand may have little time behind a section's end, if no pickup comes over it. */
export function endsInHaste(section: Section): boolean {
  let it = knownHaste.get(section);
  if (it === undefined) {
    it = hands.some((hand) => {
      const exit = mayHurry(section, hand)
        ? handPath(section, hand).exits.get(section.bars.length)
        : undefined;
      const last = exit && lastBefore(exit, 0);
      return last !== undefined && isQuick(last);
    });
    knownHaste.set(section, it);
  }
  return it;
}

const knownEarly = new WeakMap<Section, boolean>();

/** Whether a hand starts a section with a pickup, over the end of what comes before it. */
export function startsEarly(section: Section): boolean {
  let it = knownEarly.get(section);
  if (it === undefined) {
    it = Object.values(section.rows).some(
      ({ slots: [first] }) => first?.pickup === true && first.hand !== undefined,
    );
    knownEarly.set(section, it);
  }
  return it;
}

const hands: readonly Hand[] = ["left", "right"];

/** The move from what a hand struck before one bar line to what it strikes behind another, if it is a quick one. */
export function moveAcross(exit: Strikes | undefined, entry: Strike | undefined): HandMove | undefined {
  const from = exit && entry && lastBefore(exit, entry.milliseconds);
  return from !== undefined && isQuick(from)
    ? { from: from.slot, to: (entry as Strike).slot, milliseconds: from.milliseconds }
    : undefined;
}

/** How long a time, in whole notes, lasts in a bar, in milliseconds; `undefined` where no tempo is said. */
export function lasting(time: Fraction, section: Section, bar: Bar): number | undefined {
  const whole = wholeNote(section, bar);
  return whole === undefined ? undefined : millisecondsOf(time, whole);
}

function wholeNote({ systems }: Section, { system, meter }: Bar): number | undefined {
  const tempo = systems[system]?.tempo;
  return tempo === undefined ? undefined : wholeAt(tempo, meter);
}

/** The milliseconds of a whole note. */
function wholeAt(tempo: number, meter: Meter): number {
  const { n, d } = beatLength(meter);
  return (60_000 * d) / (n * tempo);
}

const millisecondsOf = ({ n, d }: Fraction, whole: number): number => (n * whole) / d;

/** The last slot struck before `after` milliseconds from now, and how long before. */
function lastBefore({ slots, times, now }: Strikes, after: number): Strike | undefined {
  const time = now + after;
  let i = times.length - 1;
  while (i >= 0 && (times[i] as number) >= time) i--;
  const slot = slots[i];
  return slot === undefined ? undefined : { slot, milliseconds: time - (times[i] as number) };
}

const noStrikes = (): Strikes => ({ slots: [], times: [], moves: [], now: 0 });

function pathOf(section: Section, hand: Hand): HandPath {
  const { bars, systems, plays } = section;
  const rows = rowsOf(section, hand);
  const playedBefore = new Set(plays.map(({ beforeBar }) => beforeBar));
  const rolls = new Set<SlotEvent>();
  const entries = new Map<number, Strike>();
  const exits = new Map<number, Strikes>();
  const moves = new Map<SlotEvent, readonly HandMove[]>();
  let path: Strikes = noStrikes();
  /** The bar that the hand has come into from elsewhere and struck nothing since. */
  let entered: number | undefined = 0;

  // A third time through a repeat brings no other moves than the first and the last.
  for (const { bar, entered: isEntered } of writtenOut(bars, 2)) {
    const system = systems[bar.system];
    if (system === undefined) continue;
    const whole = wholeNote(section, bar);
    if (isEntered && playedBefore.has(bar.index)) {
      exits.set(bar.index, path);
      path = noStrikes();
      entered = bar.index;
    }
    // What a line that can't be read would have the hand do is unknown.
    if (system.unread && system.firstBar === bar.index) forget();
    for (const { slots, starts } of rows) {
      const end = starts[bar.index + 1] as number;
      for (let i = starts[bar.index] as number; i < end; i++) {
        const slot = slots[i] as SlotEvent;
        if (slot.hand !== hand || (slot.pickup && !isEntered)) continue;
        if (slot.kind === "unread") forget();
        else if (whole !== undefined && strikes(slot))
          strike(slot, millisecondsOf(minus(slot.at, bar.at), whole));
      }
    }
    if (system.unread && system.endBar === bar.index + 1) forget();
    if (whole === undefined) forget();
    else path.now += millisecondsOf(bar.length, whole);
  }
  exits.set(bars.length, path);
  return { moves: [...moves.values()].flat(), rolls: [...rolls], entries, exits };

  /** A slot is struck so many milliseconds after the bar line; before it in a pickup. */
  function strike(slot: SlotEvent, after: number): void {
    if (slot.rolled) rolls.add(slot);
    const { slots, times, now } = path;
    // What a pickup covers is not played, though it may have been the time before.
    while (times.length > 0 && (times[times.length - 1] as number) >= now + after) {
      slots.pop();
      times.pop();
      const move = path.moves.pop();
      if (move !== undefined)
        moves.set(
          move.to,
          (moves.get(move.to) ?? []).filter((it) => it !== move),
        );
    }
    const from = lastBefore(path, after);
    slots.push(slot);
    times.push(now + after);
    path.moves.push(from && newMove(from, slot));
    if (entered !== undefined) entries.set(entered, { slot, milliseconds: now + after });
    entered = undefined;
  }

  function newMove(from: Strike, to: SlotEvent): HandMove | undefined {
    if (!isQuick(from) || (!from.slot.rolled && areNear(from.slot, to))) return undefined;
    const before = moves.get(to) ?? [];
    if (before.some((it) => it.from === from.slot)) return undefined;
    const move = { from: from.slot, to, milliseconds: from.milliseconds };
    moves.set(to, [...before, move]);
    return move;
  }

  function forget(): void {
    path = noStrikes();
    entered = undefined;
  }
}

/** Whether all that two slots strike and hold lies so close that no hand has to move. */
function areNear(one: SlotEvent, other: SlotEvent): boolean {
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const slot of [one, other]) {
    for (const notes of [slot.struck, slot.held]) {
      for (const { pitch } of notes) {
        if (pitch.midi < low) low = pitch.midi;
        if (pitch.midi > high) high = pitch.midi;
      }
    }
  }
  return high - low <= alwaysCovered;
}

const ownRow = { left: "left", right: "right" } as const;
const melodyRow = { left: "bass", right: "lead" } as const;

interface Row {
  readonly slots: readonly SlotEvent[];
  /** The index of each bar's first slot (or of its pickup's), and their number at the end. */
  readonly starts: readonly number[];
}

/** The rows that a hand plays; in a system it plays one of them. */
const rowsOf = ({ rows, bars }: Section, hand: Hand): readonly Row[] =>
  [rows[ownRow[hand]], rows[melodyRow[hand]]].flatMap(({ slots }) =>
    slots.length === 0 ? [] : [{ slots, starts: startsOf(slots, bars.length) }],
  );

function startsOf(slots: readonly SlotEvent[], bars: number): readonly number[] {
  const starts: number[] = [];
  let i = 0;
  for (let bar = 0; bar <= bars; bar++) {
    while ((slots[i]?.bar ?? bars) < bar) i++;
    starts.push(i);
  }
  return starts;
}
