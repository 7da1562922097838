import { fingerSpan, slack, spanUnit } from "./finger-spans.js";
import type { Fingering } from "./fingerings.js";
import type { Finger, Hand } from "./hand.js";
import { isBlack, placeOf, whiteKeyWidth } from "./key-place.js";

/** A fingering in its place in a passage. */
export interface FingeredGrip {
  /** Ascending MIDI numbers. */
  readonly keys: readonly number[];
  /** A finger a key. */
  readonly fingers: readonly Finger[];
  /** What it costs by itself, in the micrometres of `spanUnit`. */
  readonly cost: number;
  /**
   * Where the hand lies: the place of its thumb if every finger stood on a white key of its own, in the mean of the
   * fingers in use; in micrometres, outward from the thumb.
   */
  readonly position: number;
}

/**
 * What things cost, in units of `spanUnit`. The kinds are those of R. Parncutt et al. (1997), An ergonomic model of
 * keyboard fingering for melodic fragments, where a rule is named; the sizes are chosen here so that scales, broken
 * chords and common chords come out as teachers finger them.
 */
const weights = {
  /** Another finger on a key that stays down: a silent change, the last resort. */
  changeOnHeld: 24,
  /** Another finger on a key that is struck again. */
  changeOnRepeated: 3,
  /** A line that breaks off: the hand leaves the keys between two single notes. */
  lift: 24,
  /** The hand turns over the thumb: another position (rules 4 and 12). */
  pass: 4,
  /** The thumb and the second finger pass each other: little way is won. */
  passOfSecond: 1,
  /** The thumb on a white key passes a finger on a black one, which leaves it room (after rule 12): so much less. */
  passUnderBlack: 3,
  /** The thumb on a black key, in a line (rule 10). */
  thumbOnBlack: 4,
  /** The little finger on a black key beside a white one, in a line (rule 11). */
  littleFingerOnBlack: 5,
  /** A chord as wide as a fifth that doesn't lie between thumb and little finger. */
  notSpread: 2,
} as const;

/** Beyond what is comfortable, or relaxed (rules 1 to 3), by the size of what is too much. */
const [strainWeight, offRelaxedWeight] = [2, 1];
/** A finger that lies far over the thumb costs by the square of how far: the fourth more than the third. */
const underThumbWeight = 1 / 25;

/** The strains of a grip count twice beside those of a line (rule 14 of Balliauw et al. 2017). */
const gripWeight = 2;

/** A shift costs half its size up to here, and an eighth from here on, where the arm moves and not the hand. */
const nearShift = 8 * spanUnit;

/** From the lowest key of a fifth to its highest: the least of all twelve. */
const fifthWidth = 4 * whiteKeyWidth;

const outward = (key: number, hand: Hand): number => (hand === "right" ? placeOf(key) : -placeOf(key));

/** A fingering of keys (ascending MIDI numbers) as a passage sees it. */
export function fingeredGrip(
  keys: readonly number[],
  { fingers, cost }: Fingering,
  hand: Hand,
): FingeredGrip {
  let places = 0;
  keys.forEach((key, i) => {
    places += outward(key, hand) - ((fingers[i] as Finger) - 1) * whiteKeyWidth;
  });
  const own =
    gripWeight * cost + spanUnit * (keys.length === 1 ? loneCost(keys, fingers) : spreadCost(keys, fingers));
  return { keys, fingers, cost: own, position: Math.round(places / keys.length) };
}

const loneCost = ([key]: readonly number[], [finger]: readonly Finger[]): number =>
  finger === 1 && isBlack(key as number) ? weights.thumbOnBlack : 0;

function spreadCost(keys: readonly number[], fingers: readonly Finger[]): number {
  const last = keys.length - 1;
  const width = placeOf(keys[last] as number) - placeOf(keys[0] as number);
  const isSpread = (fingers[0] as Finger) + (fingers[last] as Finger) === 6 && fingers[0] !== fingers[last];
  return width >= fifthWidth && !isSpread ? weights.notSpread : 0;
}

/** What the hand's shift from one grip to another costs. */
function shiftCost(from: FingeredGrip, to: FingeredGrip): number {
  const shift = Math.abs(to.position - from.position);
  return shift <= nearShift ? shift / 2 : nearShift / 2 + (shift - nearShift) / 8;
}

/** What is alike in every move from the keys of one grip to those of the next. */
export interface Move {
  /** From one single note to another: the thumb may pass under, and fingers are joined. */
  readonly isLine: boolean;
  /** The keys of both: where they stand in each, and what another finger on them costs. */
  readonly shared: readonly SharedKey[];
}

interface SharedKey {
  readonly before: number;
  readonly after: number;
  readonly changeCost: number;
}

/** The move from some keys to others (ascending MIDI numbers), of which `held` are down already and stay down. */
export function moveBetween(from: readonly number[], to: readonly number[], held: readonly number[]): Move {
  const shared: SharedKey[] = [];
  to.forEach((key, after) => {
    const before = from.indexOf(key);
    if (before < 0) return;
    const units = held.includes(key) ? weights.changeOnHeld : weights.changeOnRepeated;
    shared.push({ before, after, changeCost: units * spanUnit });
  });
  return { isLine: from.length === 1 && to.length === 1 && shared.length === 0, shared };
}

/** One note of a line. */
interface LineNote {
  readonly finger: Finger;
  readonly place: number;
  readonly black: boolean;
}

const lineNote = ({ keys, fingers }: FingeredGrip, hand: Hand): LineNote => ({
  finger: fingers[0] as Finger,
  place: outward(keys[0] as number, hand),
  black: isBlack(keys[0] as number),
});

/** What the span of two fingers costs in a line; `undefined` where it can't be had. */
function spanCost(inner: LineNote, outer: LineNote, reach: number): number | undefined {
  const span = fingerSpan(inner.finger, outer.finger, reach);
  const width = outer.place - inner.place;
  if (width < span.least || width > span.widest) return undefined;
  const strain = Math.max(0, width - span.easy, span.comfortableLeast - width);
  const wide = Math.max(0, width - span.relaxedMost - slack);
  const near = Math.max(0, span.relaxedLeast - width);
  const close = inner.finger === 1 ? Math.round((underThumbWeight * near * near) / spanUnit) : near;
  return strainWeight * strain + offRelaxedWeight * (wide + close);
}

/** What it costs, in units, to turn over the thumb, which is the inner finger; 0 where nothing crosses. */
function passCost(inner: LineNote, outer: LineNote): number {
  if (outer.place > inner.place) return 0;
  let cost = weights.pass + (outer.finger === 2 ? weights.passOfSecond : 0);
  if (!inner.black && outer.black) cost -= weights.passUnderBlack;
  return cost;
}

/** From one note of a line to another. */
function lineCost(from: LineNote, to: LineNote, reach: number): number {
  const lifted = weights.lift * spanUnit;
  if (from.finger === to.finger) return lifted;
  const [inner, outer] = from.finger < to.finger ? [from, to] : [to, from];
  const span = spanCost(inner, outer, reach);
  if (span === undefined) return lifted;
  const isLittleBlack = outer.finger === 5 && outer.black && !inner.black;
  const units = passCost(inner, outer) + (isLittleBlack ? weights.littleFingerOnBlack : 0);
  return Math.min(lifted, span + units * spanUnit);
}

/** What it costs to get from one fingered grip to the next, in the micrometres of `spanUnit`. */
export function moveCost(
  from: FingeredGrip,
  to: FingeredGrip,
  { isLine, shared }: Move,
  hand: Hand,
  reach: number,
): number {
  let cost = shiftCost(from, to);
  for (const { before, after, changeCost } of shared)
    if (from.fingers[before] !== to.fingers[after]) cost += changeCost;
  return isLine ? cost + lineCost(lineNote(from, hand), lineNote(to, hand), reach) : cost;
}
