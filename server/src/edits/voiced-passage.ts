import { bareChords, isHeardWith, type WholeChord, wholeChords } from "../chart/bare-chords.js";
import { lasting } from "../chart/hand-path.js";
import type { Bar, ChordEvent, PlacedSection, SlotEvent } from "../chart/model.js";
import type { Hand } from "../keyboard/hand.js";
import { chordNumber } from "../theory/chord.js";
import { compare, type Fraction, minus, plus } from "../theory/fraction.js";
import type { Pitch } from "../theory/pitch.js";
import { standsAgainst } from "../theory/stands-against.js";
import type { Step, Voice } from "../voicing/voicing.js";
import { melodyAt, type Started, type Stretch, timed } from "./hand-line.js";

/** What both hands do through a section. */
export type Lines = Readonly<Record<Hand, readonly Stretch[]>>;

/** The keys that the search has found for stretches. */
export type Found = ReadonlyMap<Stretch, readonly Voice[]>;

/** A step of the search with its place in the chart. */
export interface PassageStep {
  readonly step: Step;
  readonly event: ChordEvent;
  readonly bar: number;
  readonly pickup: boolean;
  readonly at: Fraction;
  /** What is to be found there. */
  readonly open: Partial<Record<Hand, Stretch>>;
  /** The melody stands against the chord, so that it can't be its top voice. */
  readonly melodyLeft: Pitch | undefined;
}

const hands: readonly Hand[] = ["left", "right"];

/**
 * The steps of a section at which some hands (those with anything to find) strike, in written order: a chord each.
 * What stands already is fixed in them, and of a hand that moves while a voicing is held what comes nearest to it.
 */
export function passageSteps(
  placed: PlacedSection,
  lines: Lines,
  searched: readonly Hand[],
  found: Found,
): readonly PassageStep[] {
  const isOpen = (it: Stretch): boolean => it.kind === "open" && !found.has(it);
  const moments: Stretch[][] = [];
  for (const it of searched.flatMap((hand) => lines[hand]).sort(inOrder)) {
    if (it.kind === "rest" || it.chord === undefined) continue;
    const last = moments.at(-1);
    if (last?.[0] !== undefined && inOrder(last[0], it) === 0) last.push(it);
    else moments.push([it]);
  }
  const guides = guidesIn(placed, lines);
  const struck = moments.filter(
    (now) =>
      now.some(isOpen) ||
      searched.every((hand) => {
        const there = stretchAt(lines[hand], now[0] as Stretch);
        return there === undefined || !isOpen(there);
      }),
  );
  return struck.map((now, i) => {
    const opens = now.filter(isOpen);
    const first = (opens[0] ?? now[0]) as Stretch;
    const event = first.chord as ChordEvent;
    const open: Partial<Record<Hand, Stretch>> = {};
    for (const it of opens) open[it.hand] = it;
    const until = earliest(opens.length > 0 ? opens : now);
    const others = hands.flatMap((hand): readonly Held[] =>
      open[hand] === undefined ? [heldBy(placed, hand, lines[hand], first, until, found)] : [],
    );
    const fixed = (hand: Hand): readonly Voice[] | undefined =>
      others
        .find((it) => it.hand === hand)
        ?.pitches.map((pitch) => ({ pitch, number: chordNumber(event.chord, pitch.fifths) }));
    const sung = open.right?.melody;
    const melody = sung !== undefined && standsAgainst(sung, event.chord) ? undefined : sung;
    return {
      step: {
        chord: event.chord,
        key: event.key,
        melody,
        left: fixed("left"),
        right: fixed("right"),
        ...goingOn(placed, open, lines),
        ...(opens.length === 0 ? {} : guides(event, ...others)),
        time: timeTo(placed, first, struck[i + 1]?.[0]),
      },
      event,
      bar: first.bar,
      pickup: first.pickup,
      at: first.at,
      open,
      melodyLeft: melody === undefined ? sung : undefined,
    };
  });
}

/** Where both hands are to be found: the keys that each goes on to, in a pickup of the player's, while the other holds. */
function goingOn(
  placed: PlacedSection,
  { left, right }: Partial<Record<Hand, Stretch>>,
  lines: Lines,
): { readonly above?: number; readonly below?: number } {
  if (left === undefined || right === undefined) return {};
  const low = keysMeanwhile(placed, lines.left, right);
  const high = keysMeanwhile(placed, lines.right, left);
  return {
    ...(low.length === 0 ? {} : { above: Math.max(...low) }),
    ...(high.length === 0 ? {} : { below: Math.min(...high) }),
  };
}

/**
 * What `missing-guide-tone` asks of a voicing, by its chord and by what a hand does there that is not to be found. It
 * asks of the whole chord, and hears in it whatever stands and is not written anew.
 */
function guidesIn(
  { section }: PlacedSection,
  lines: Lines,
): (event: ChordEvent, ...others: readonly Held[]) => Pick<Step, "isForeign" | "mayBeBare"> {
  const wholes = new Map<ChordEvent, WholeChord>();
  for (const whole of wholeChords(section)) for (const event of whole.events) wholes.set(event, whole);
  let asked: ReadonlySet<WholeChord> | undefined;
  const isAsked = (whole: WholeChord): boolean => {
    asked ??= new Set([
      ...bareChords(section, (slot) => isStanding(slot, lines)).map(({ event }) => wholes.get(event)),
      // Where the right hand is to be found it will play the chord.
      ...lines.right.flatMap(({ kind, chord }) => (kind === "open" && chord ? [wholes.get(chord)] : [])),
    ]) as ReadonlySet<WholeChord>;
    return asked.has(whole);
  };
  return (event, ...others) => {
    const whole = wholes.get(event);
    const isForeign = others.some(
      ({ from }) => from !== undefined && (whole === undefined || !isHeard(from, whole)),
    );
    const isRightSilent = others.some(
      ({ hand, pitches }) => hand === "right" && (isForeign || pitches.length === 0),
    );
    // The chord that a section lands on is no part of it, and judged nowhere.
    return { isForeign, mayBeBare: isRightSilent && (whole === undefined || !isAsked(whole)) };
  };
}

/** Whether what a stretch plays is heard with a chord; once the chord that it was pushed to is there, as any other. */
function isHeard({ at, until, chord, slot }: Stretch, whole: WholeChord): boolean {
  const isAhead = chord !== undefined && compare(chord.at, whole.event.at) >= 0;
  return isHeardWith(whole, { at, until, chord, pushed: slot?.pushed === true && isAhead });
}

/** Whether a slot is neither to be found nor in a bar that is written whole. */
function isStanding(slot: SlotEvent, lines: Lines): boolean {
  if (slot.row === "bass" || slot.hand === undefined) return true;
  const there = stretchAt(lines[slot.hand], slot);
  return there === undefined || (there.kind !== "open" && there.slot !== undefined);
}

/** The keys that a hand strikes, as the player wrote them, while the other holds something. */
function keysMeanwhile(placed: PlacedSection, line: readonly Stretch[], held: Stretch): readonly number[] {
  const keys: number[] = [];
  for (let i = indexOf(line, held) + 1; i < line.length; i++) {
    const it = line[i] as Stretch;
    if (isAllAfter(it, held.until, placed)) break;
    if (compare(it.at, held.until) >= 0 || compare(it.until, held.at) <= 0) continue;
    for (const { midi } of it.pitches) keys.push(midi);
  }
  return keys;
}

/** Whether a stretch and all that are written behind it start at a moment or later; a pickup starts before its bar. */
const isAllAfter = ({ at }: Stretch, moment: Fraction, { section }: PlacedSection): boolean =>
  compare(at, plus(moment, section.longestPickup)) >= 0;

/** In written order: a pickup comes before its bar. */
export const inOrder = (a: Place, b: Place): number =>
  a.bar - b.bar || Number(b.pickup) - Number(a.pickup) || compare(a.at, b.at);

type Place = Pick<Stretch, "bar" | "pickup" | "at">;

/** The index of what a hand does at a moment; -1 before its first stretch. */
function indexOf(line: readonly Stretch[], place: Place): number {
  let [low, high] = [0, line.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (inOrder(line[middle] as Stretch, place) <= 0) low = middle + 1;
    else high = middle;
  }
  return low - 1;
}

const stretchAt = (line: readonly Stretch[], place: Place): Stretch | undefined => line[indexOf(line, place)];

/** Whether what one hand is to find starts while another such is held, or for another chord, so that no step could say both. */
export function isStaggered(lines: Lines): boolean {
  return hands.some((hand) => {
    const other = lines[hand === "left" ? "right" : "left"];
    return lines[hand].some((it) => {
      if (it.kind !== "open") return false;
      const there = stretchAt(other, it);
      if (there?.kind !== "open") return false;
      // Struck together, one of them may be pushed to another chord.
      return inOrder(there, it) < 0 ? compare(there.until, it.at) > 0 : there.chord !== it.chord;
    });
  });
}

/**
 * The same with both hands striking together what is written whole for both: where one hand strikes anew a chord that
 * the other would hold, the other does too.
 */
export function struckTogether(
  placed: PlacedSection,
  lines: Lines,
  isWhole: (hand: Hand, bar: number, pickup: boolean) => boolean,
): Lines {
  const joined = (hand: Hand): readonly Stretch[] => {
    const added = lines[hand === "left" ? "right" : "left"].flatMap((it): readonly Started[] => {
      const { system, bar, pickup, at } = it;
      const there = stretchAt(lines[hand], it);
      const isHeld =
        it.kind === "open" &&
        it.slot === undefined &&
        there?.kind === "open" &&
        there.slot === undefined &&
        there.chord === it.chord &&
        inOrder(there, it) < 0 &&
        isWhole(hand, bar, pickup);
      if (!isHeld) return [];
      const melody = hand === "right" ? melodyAt(placed, bar, pickup, at) : undefined;
      return [{ ...there, system, bar, pickup, at, melody }];
    });
    if (added.length === 0) return lines[hand];
    return timed([...lines[hand], ...added].sort(inOrder), placed.section.length);
  };
  return { left: joined("left"), right: joined("right") };
}

/** The same without what a hand would play of a pickup's melody in the way of what the other hand holds. */
export function withoutCrossing(placed: PlacedSection, lines: Lines): Lines {
  const cleared = (hand: Hand): readonly Stretch[] =>
    lines[hand].map((it): Stretch => {
      if (it.kind !== "written" || it.slot !== undefined) return it;
      const other = hand === "left" ? "right" : "left";
      const held = heldBy(placed, other, lines[other], it, it.until, new Map()).pitches;
      const [low, high] = hand === "left" ? [it.pitches, held] : [held, it.pitches];
      const isClear = (low.at(-1)?.midi ?? 0) < (high[0]?.midi ?? Number.POSITIVE_INFINITY);
      return isClear ? it : { ...it, kind: "rest", pitches: [] };
    });
  return { left: cleared("left"), right: cleared("right") };
}

const earliest = (stretches: readonly Stretch[]): Fraction =>
  stretches.map(({ until }) => until).reduce((least, it) => (compare(it, least) < 0 ? it : least));

/** What a hand holds: from where, and from the lowest key up; nothing where it rests. */
interface Held {
  readonly hand: Hand;
  readonly from: Stretch | undefined;
  readonly pitches: readonly Pitch[];
}

/** What a hand holds from a moment on, until another: where it moves meanwhile, what lies nearest to the other hand. */
function heldBy(
  placed: PlacedSection,
  hand: Hand,
  line: readonly Stretch[],
  from: Stretch,
  until: Fraction,
  found: Found,
): Held {
  let nearest: Held = { hand, from: undefined, pitches: [] };
  let first = Math.max(0, indexOf(line, from));
  // A pickup sounds over the end of the bar before it.
  while (first > 0 && compare((line[first] as Stretch).at, from.at) > 0) first--;
  for (let i = first; i < line.length; i++) {
    const it = line[i] as Stretch;
    if (isAllAfter(it, until, placed)) break;
    if (inOrder(it, from) > 0 && compare(it.at, until) >= 0) continue;
    if (compare(it.until, from.at) <= 0) continue;
    const pitches = found.get(it)?.map(({ pitch }) => pitch) ?? it.pitches;
    if (pitches.length > 0 && (nearest.pitches.length === 0 || isNearer(hand, pitches, nearest.pitches)))
      nearest = { hand, from: it, pitches };
  }
  return nearest;
}

const isNearer = (hand: Hand, a: readonly Pitch[], b: readonly Pitch[]): boolean =>
  hand === "left" ? (a.at(-1)?.midi ?? 0) > (b.at(-1)?.midi ?? 0) : (a[0]?.midi ?? 0) < (b[0]?.midi ?? 0);

/** Milliseconds from one step to the next; `undefined` where no tempo says, and behind the last. */
function timeTo({ section }: PlacedSection, from: Place, to: Place | undefined): number | undefined {
  if (to === undefined || compare(to.at, from.at) <= 0) return undefined;
  return lasting(minus(to.at, from.at), section, section.bars[from.bar] as Bar);
}
