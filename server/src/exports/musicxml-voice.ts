import type { Section, SlotEvent } from "../chart/model.js";
import type { PitchedRow } from "../syntax/tree.js";
import { compare, type Fraction, fraction, minus, plus, zero } from "../theory/fraction.js";
import { movePitch, octaveOf, type Pitch } from "../theory/pitch.js";
import type { BarFrame } from "./musicxml-frames.js";
import type { Struck } from "./play-row.js";
import type { TimedBar } from "./timeline.js";

/** What one staff sounds, before it is parted into bars. */
export interface VoiceItem {
  readonly at: Fraction;
  readonly end: Fraction;
  /** `undefined` for a stroke of the accompaniment that nobody has written out. */
  readonly pitch: Pitch | undefined;
  readonly grace: Pitch | undefined;
  /** Alike for all tones of one roll. */
  readonly roll: string | undefined;
  /** It is written as held, and struck since nothing before it can be tied to it. */
  readonly held: boolean;
}

/** A tone that sounds through a segment. */
export interface SegmentTone {
  readonly item: VoiceItem;
  /** It is struck before the segment, or sounds on after it. */
  readonly tiedFrom: boolean;
  readonly tiedTo: boolean;
}

/** A stretch of a bar in which the same tones sound; none in a rest. Times count from the bar's start. */
export interface Segment {
  readonly at: Fraction;
  readonly end: Fraction;
  /** From the lowest key up. */
  readonly tones: readonly SegmentTone[];
  /** A stroke of the accompaniment. */
  readonly slash: boolean;
}

/** What a voice does in a printed bar. */
export interface VoiceBar {
  readonly segments: readonly Segment[];
  /** Strictly inside, in order: where its slots start. */
  readonly slots: readonly Fraction[];
}

/** The keys that a score can name: octaves 0 to 9 (MusicXML 4.0, `octave`). */
const canBePrinted = (pitch: Pitch): boolean => octaveOf(pitch) >= 0 && octaveOf(pitch) <= 9;

/**
 * The tones of a row as they are written: moved, and without those that no score can name. A key that is struck again
 * while it is down comes up first, and of two that strike it at once the longer stays.
 */
export function voiceItems(struck: readonly Struck[]): readonly VoiceItem[] {
  const items: { -readonly [K in keyof VoiceItem]: VoiceItem[K] }[] = [];
  const down = new Map<number, (typeof items)[number]>();
  for (const { note, grace, bar, at, end, roll, held } of [...struck].sort((a, b) => compare(a.at, b.at))) {
    const moved = (pitch: Pitch): Pitch => movePitch(pitch, bar.fifths, bar.played.moved.halfSteps);
    const pitch = moved(note.pitch);
    if (compare(end, at) <= 0 || !canBePrinted(pitch)) continue;
    const slips = grace === undefined ? undefined : moved(grace.pitch);
    const slipped = slips !== undefined && canBePrinted(slips) ? slips : undefined;
    const before = down.get(pitch.midi);
    if (before !== undefined && compare(before.at, at) === 0) {
      if (compare(end, before.end) > 0) before.end = end;
      before.grace ??= slipped;
      continue;
    }
    if (before !== undefined && compare(before.end, at) > 0) before.end = at;
    const item = { at, end, pitch, grace: slipped, roll, held };
    down.set(pitch.midi, item);
    items.push(item);
  }
  return items;
}

/** Where the slots of a row start as it is played, in order: a pickup's stand in place of those that it covers. */
export function slotPlaces(row: PitchedRow, bars: readonly TimedBar[]): readonly Fraction[] {
  const known = new Map<Section, SlotsOfRow>();
  const places: Fraction[] = [];
  for (const { at, played } of bars) {
    const { section } = played.section;
    const slots = known.get(section) ?? slotsOf(row, section);
    known.set(section, slots);
    const { bar, entered } = played;
    const pickup = entered ? slots.pickups.get(bar.index) : undefined;
    const first = pickup?.[0];
    if (pickup !== undefined && first !== undefined) {
      const from = plus(at, first);
      while (places.length > 0 && compare(places[places.length - 1] as Fraction, from) >= 0) places.pop();
      for (const place of pickup) places.push(plus(at, place));
    }
    for (const place of slots.bars[bar.index] ?? []) places.push(plus(at, place));
  }
  return places;
}

interface SlotsOfRow {
  readonly bars: readonly (readonly Fraction[])[];
  readonly pickups: ReadonlyMap<number, readonly Fraction[]>;
}

function slotsOf(row: PitchedRow, section: Section): SlotsOfRow {
  const bars: Fraction[][] = section.bars.map(() => []);
  const pickups = new Map<number, Fraction[]>();
  const placeOf = ({ at, bar }: SlotEvent): Fraction => minus(at, section.bars[bar]?.at ?? section.length);
  for (const slot of section.rows[row].slots) {
    if (!slot.pickup) bars[slot.bar]?.push(placeOf(slot));
    else if (pickups.has(slot.bar)) pickups.get(slot.bar)?.push(placeOf(slot));
    else pickups.set(slot.bar, [placeOf(slot)]);
  }
  return { bars, pickups };
}

/** Beyond this the places of a bar are put on a grid: no reader counts finer parts of a whole note. */
const finest = 65_536;

/** The voice parted into the printed bars. `items` and `places` are in order. */
export function voiceBars(
  items: readonly VoiceItem[],
  places: readonly Fraction[],
  frames: readonly BarFrame[],
): readonly VoiceBar[] {
  let nextItem = 0;
  let nextPlace = 0;
  let sounding: VoiceItem[] = [];
  return frames.map(({ at, length }) => {
    const end = plus(at, length);
    sounding = sounding.filter((it) => compare(it.end, at) > 0);
    for (let it = items[nextItem]; it !== undefined && compare(it.at, end) < 0; it = items[++nextItem])
      if (compare(it.end, at) > 0) sounding.push(it);
    const slots: Fraction[] = [];
    for (
      let place = places[nextPlace];
      place !== undefined && compare(place, end) < 0;
      place = places[++nextPlace]
    )
      if (compare(place, at) > 0) slots.push(minus(place, at));
    return barOf(sounding, slots, at, length);
  });
}

/** An item with its times from the bar's start. */
interface TimedItem {
  readonly item: VoiceItem;
  readonly at: Fraction;
  readonly end: Fraction;
}

function barOf(
  items: readonly VoiceItem[],
  slots: readonly Fraction[],
  at: Fraction,
  length: Fraction,
): VoiceBar {
  if (items.length === 0) return { segments: [{ at: zero, end: length, tones: [], slash: false }], slots };
  let timed: readonly TimedItem[] = items.map((item) => ({
    item,
    at: minus(item.at, at),
    end: minus(item.end, at),
  }));
  let inner = slots;
  if (isTooFine(timed, slots)) {
    timed = timed.map((it) => ({ item: it.item, at: onGrid(it.at), end: onGrid(it.end) }));
    inner = slots.map(onGrid).filter((it) => isInside(it, length));
  }
  const changes: Fraction[] = [];
  for (const it of timed) {
    if (isInside(it.at, length)) changes.push(it.at);
    if (isInside(it.end, length)) changes.push(it.end);
  }
  changes.sort(compare);
  changes.push(length);
  const segments: Segment[] = [];
  let from = zero;
  let next = 0;
  let here: TimedItem[] = [];
  for (const to of changes) {
    if (compare(to, from) <= 0) continue;
    if (here.length > 0) here = here.filter((it) => compare(it.end, from) > 0);
    for (let it = timed[next]; it !== undefined && compare(it.at, from) <= 0; it = timed[++next])
      if (compare(it.end, from) > 0) here.push(it);
    const tones: SegmentTone[] = [];
    for (const it of here) {
      if (it.item.pitch === undefined) continue;
      tones.push({ item: it.item, tiedFrom: compare(it.at, from) < 0, tiedTo: compare(it.end, to) > 0 });
    }
    if (tones.length > 1) tones.sort((a, b) => keyOf(a) - keyOf(b));
    segments.push({ at: from, end: to, tones, slash: here.length > 0 && tones.length === 0 });
    from = to;
  }
  return { segments, slots: inner };
}

const isInside = (it: Fraction, length: Fraction): boolean => it.n > 0 && compare(it, length) < 0;

const keyOf = ({ item }: SegmentTone): number => item.pitch?.midi ?? 0;

function isTooFine(items: readonly TimedItem[], slots: readonly Fraction[]): boolean {
  let common = 1;
  const goesFurther = ({ d }: Fraction): boolean => {
    if (common % d !== 0) common *= fraction(common, d).d;
    return common > finest;
  };
  return items.some((it) => goesFurther(it.at) || goesFurther(it.end)) || slots.some(goesFurther);
}

const onGrid = ({ n, d }: Fraction): Fraction => fraction(Math.round((n * finest) / d), finest);
