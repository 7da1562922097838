import type { Meter } from "../chart/model.js";
import { compare, divide, type Fraction, fraction, isEqual, minus, plus, zero } from "../theory/fraction.js";
import {
  breakInside,
  type Metre,
  metreOf,
  metreOfTuplet,
  standsUnbroken,
  strengthAt,
} from "./musicxml-metre.js";
import { isPowerOfTwo, type NoteValue, noteValue, typeOf } from "./musicxml-value.js";

/** So many notes of a value in the time of so many: 3 eighths in the time of 2. */
export interface Tuplet {
  readonly actual: number;
  readonly normal: number;
  readonly type: string;
}

/** A printed note or rest of one voice in one bar. */
export interface Piece {
  /** From the bar's start. */
  readonly at: Fraction;
  /** How long it sounds. */
  readonly length: Fraction;
  /** `undefined` where no printed value lasts so long. */
  readonly value: NoteValue | undefined;
  /** Those that it stands in, the outermost first. */
  readonly tuplets: readonly Tuplet[];
  /** How many of them, counted from the innermost, start or end with it. */
  readonly starts: number;
  readonly ends: number;
}

/** What a voice does in a bar, as far as its printed values go. */
export interface BarRhythm {
  readonly meter: Meter;
  readonly length: Fraction;
  /** Where in a whole bar of this meter it starts: later than 0 for the upbeat before the first bar. */
  readonly from: Fraction;
  /** Strictly inside, in order: where what sounds changes. */
  readonly changes: readonly Fraction[];
  /** Strictly inside, in order: where a slot starts. The slots say how a tuplet is meant. */
  readonly slots: readonly Fraction[];
  readonly isRest: (at: Fraction) => boolean;
}

/** A stretch of a bar whose notes are all in the same tuplets. */
interface Stretch {
  readonly at: Fraction;
  readonly end: Fraction;
  readonly changes: readonly Fraction[];
  readonly slots: readonly Fraction[];
}

/** How sounding time is printed: inside of tuplets notes are printed longer than they sound. */
interface Frame {
  readonly metre: Metre;
  /** The place from which `metre` counts, in sounding time, and what it counts there. */
  readonly start: Fraction;
  readonly offset: Fraction;
  /** Printed time for each sounding time. */
  readonly scale: Fraction;
  readonly tuplets: readonly Tuplet[];
}

/** The printed values of a voice in a bar: they fill it, and break where what sounds changes. */
export function rhythmOf({ meter, length, from, changes, slots, isRest }: BarRhythm): readonly Piece[] {
  const pieces: Piece[] = [];
  const frame: Frame = {
    metre: metreOf(meter),
    start: zero,
    offset: from,
    scale: { n: 1, d: 1 },
    tuplets: [],
  };
  notate({ at: zero, end: length, changes, slots }, frame, false, isRest, pieces);
  return pieces;
}

const product = (a: Fraction, b: Fraction): Fraction => fraction(a.n * b.n, a.d * b.d);

const printed = (at: Fraction, { start, offset, scale }: Frame): Fraction =>
  plus(offset, product(minus(at, start), scale));

const isPlain = (at: Fraction, frame: Frame): boolean => isPowerOfTwo(printed(at, frame).d);

/** `isOpen` where a tuplet has been opened for just this stretch, so that it is no tuplet once more. */
function notate(
  stretch: Stretch,
  frame: Frame,
  isOpen: boolean,
  isRest: BarRhythm["isRest"],
  pieces: Piece[],
): void {
  let plainFrom: Fraction | undefined;
  const plainUpTo = (end: Fraction): void => {
    if (plainFrom !== undefined) plainPieces(within(stretch, plainFrom, end), frame, isRest, pieces);
    plainFrom = undefined;
  };
  for (const part of partsOf(stretch, frame, isOpen)) {
    if (isPlainly(part, frame)) plainFrom ??= part.at;
    else {
      plainUpTo(part.at);
      tupletPieces(part, frame, isRest, pieces);
    }
  }
  plainUpTo(stretch.end);
}

const isPlainly = ({ changes }: Stretch, frame: Frame): boolean => changes.every((at) => isPlain(at, frame));

/**
 * A stretch parted where slots start on plain places, the strongest first, as long as what comes between is plain or
 * one whole tuplet: each that is left is the one or the other.
 */
function partsOf(stretch: Stretch, frame: Frame, isOpen: boolean): readonly Stretch[] {
  if (isPlainly(stretch, frame)) return [stretch];
  const parts = partedOnce(stretch, frame);
  if (parts.length === 1) return parts;
  if (!isOpen && dividesEvenly(stretch) && !parts.every((it) => isClear(it, frame))) return [stretch];
  return parts.flatMap((it) => partsOf(it, frame, false));
}

/** Whether a stretch is plain, one whole tuplet, or both in parts. */
const isClear = (stretch: Stretch, frame: Frame): boolean => {
  if (isPlainly(stretch, frame) || dividesEvenly(stretch)) return true;
  const parts = partedOnce(stretch, frame);
  return parts.length > 1 && parts.every((it) => isClear(it, frame));
};

function partedOnce(stretch: Stretch, frame: Frame): readonly Stretch[] {
  const places = together(stretch.changes, stretch.slots).filter((at) => isPlain(at, frame));
  const strengths = places.map((at) => strengthAt(frame.metre, printed(at, frame)));
  const strongest = Math.max(...strengths);
  const cuts = places.filter((_, i) => strengths[i] === strongest);
  const ends = [...cuts, stretch.end];
  return ends.map((end, i) => within(stretch, i === 0 ? stretch.at : (ends[i - 1] as Fraction), end));
}

/** Whether slots start wherever an odd number of parts would that its changes need. */
function dividesEvenly(stretch: Stretch): boolean {
  const { needed, all } = divisionOf(stretch);
  for (let parts = 3; parts <= needed; parts += 2)
    if (needed % parts === 0 && hasParts(all, parts)) return true;
  return false;
}

const within = ({ changes, slots }: Stretch, at: Fraction, end: Fraction): Stretch => {
  const isInside = (it: Fraction): boolean => compare(it, at) > 0 && compare(it, end) < 0;
  return { at, end, changes: changes.filter(isInside), slots: slots.filter(isInside) };
};

/** Both in order, each place once. */
function together(a: readonly Fraction[], b: readonly Fraction[]): readonly Fraction[] {
  const all = [...a, ...b].sort(compare);
  return all.filter((it, i) => i === 0 || !isEqual(it, all[i - 1] as Fraction));
}

/** A stretch whose changes are all on plain places of its frame: notes and dotted notes, tied where one is not enough. */
function plainPieces(
  { at, end, changes }: Stretch,
  frame: Frame,
  isRest: BarRhythm["isRest"],
  pieces: Piece[],
): void {
  const { metre, tuplets, scale } = frame;
  let from = at;
  for (const to of [...changes, end]) {
    const rest = isRest(from);
    let place = printed(from, frame);
    const last = printed(to, frame);
    let sounding = from;
    while (compare(place, last) < 0) {
      const next = nextPlace(metre, place, last, rest);
      const length = minus(next, place);
      const sounds = divide(length, scale);
      pieces.push({ at: sounding, length: sounds, value: noteValue(length), tuplets, starts: 0, ends: 0 });
      sounding = plus(sounding, sounds);
      place = next;
    }
    from = to;
  }
}

/** Where the first printed value of a stretch ends. */
function nextPlace(metre: Metre, from: Fraction, to: Fraction, rest: boolean): Fraction {
  let end = to;
  for (;;) {
    const length = minus(end, from);
    // No values tied together last so long.
    if (length.d > shortest) return end;
    const value = noteValue(length);
    // A dotted rest stands for less than a beat, or in a compound meter.
    const isUsual = !rest || value?.dots !== 1 || metre.compound || compare(length, metre.beat) < 0;
    if (value !== undefined && isUsual && standsUnbroken(metre, from, end, rest)) return end;
    const isValue = (it: Fraction): boolean => noteValue(it) !== undefined;
    const next = breakInside(metre, from, end, isValue);
    if (next === undefined) return end;
    end = next;
  }
}

/** What is shorter than a 1024th has no printed value. */
const shortest = 1024;

/** A stretch that is a tuplet. */
function tupletPieces(stretch: Stretch, frame: Frame, isRest: BarRhythm["isRest"], pieces: Piece[]): void {
  const { at, end } = stretch;
  const length = minus(end, at);
  const whole = product(length, frame.scale);
  const [actual, normal] = timeOf(tupletOf(stretch), whole.n);
  const unit = fraction(whole.n, whole.d * normal);
  const tuplet: Tuplet = { actual, normal, type: typeOf(unit) ?? "1024th" };
  const scale = product(frame.scale, fraction(actual, normal));
  const first = pieces.length;
  notate(
    stretch,
    {
      metre: metreOfTuplet(product(length, scale), unit),
      start: at,
      offset: zero,
      scale,
      tuplets: [...frame.tuplets, tuplet],
    },
    true,
    isRest,
    pieces,
  );
  const opening = pieces[first] as Piece;
  pieces[first] = { ...opening, starts: opening.starts + 1 };
  const closing = pieces[pieces.length - 1] as Piece;
  pieces[pieces.length - 1] = { ...closing, ends: closing.ends + 1 };
}

interface Division {
  /** Into how many parts the changes alone need a stretch parted, and the odd number in it. */
  readonly parts: number;
  readonly needed: number;
  /** Changes and slots as parts of the stretch, from 0 to 1. */
  readonly all: readonly Fraction[];
  readonly changes: number;
}

function divisionOf({ at, end, changes, slots }: Stretch): Division {
  const length = minus(end, at);
  const partOf = (it: Fraction): Fraction => divide(minus(it, at), length);
  const parts = changes.map(partOf).reduce((most, { d }) => common(d, most), 1);
  return {
    parts,
    needed: odd(parts),
    all: together(changes, slots).map(partOf),
    changes: changes.length,
  };
}

const hasParts = (all: readonly Fraction[], parts: number): boolean =>
  all.filter(({ d }) => parts % d === 0).length === parts - 1;

/**
 * Into how many parts a tuplet divides its time: as many as it has slots where they are even; the parts of an outer
 * tuplet where slots start with each of them; else the odd number that its changes need.
 */
function tupletOf(stretch: Stretch): number {
  const { parts, needed, all, changes } = divisionOf(stretch);
  if (changes === parts - 1 && parts === needed) return parts;
  const ofAll = all.reduce((most, { d }) => common(d, most), 1);
  if (all.length === ofAll - 1 && ofAll === needed) return ofAll;
  let outer = needed;
  for (let count = needed - 2; count >= 3; count -= 2) {
    if (needed % count !== 0 || !hasParts(all, count)) continue;
    outer = count;
    if (partsOfTuplet(stretch, count).every((it) => divisionOf(it).needed === 1 || dividesEvenly(it)))
      return count;
  }
  return outer;
}

function partsOfTuplet(stretch: Stretch, count: number): readonly Stretch[] {
  const { at, end } = stretch;
  const place = (i: number): Fraction => plus(at, product(minus(end, at), fraction(i, count)));
  return Array.from({ length: count }, (_, i) => within(stretch, place(i), place(i + 1)));
}

const odd = (n: number): number => {
  let rest = n;
  while (rest % 2 === 0) rest /= 2;
  return rest;
};

/** The least common multiple. */
const common = (a: number, b: number): number => a * fraction(a, b).d;

/** How many notes stand in the time of how many; `of` is the odd number of equal values that fill that time. */
function timeOf(parts: number, of: number): readonly [actual: number, normal: number] {
  let normal = of;
  while (normal * 2 < parts) normal *= 2;
  let actual = parts;
  while (actual <= normal) actual *= 2;
  return [actual, normal];
}
