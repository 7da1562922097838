import type { Finger, Hand } from "../../server/src/keyboard/hand.js";

/**
 * Whether a hand holds keys, written a second time from the description of the model alone, without a shortcut: a
 * geometry of its own, the limits as a text, and either hand in its own terms. What it shares with the product is the
 * two type names.
 */
export interface Verdict {
  readonly fingers: string | undefined;
  readonly easy: boolean;
  readonly reasons: readonly string[];
}

/** Where the keys lie, in micrometres. */
export type Geometry = (midi: number) => number;

const white = 23_500;
const letters = [0, 0, 1, 1, 2, 3, 3, 4, 4, 5, 5, 6];
const blacks = new Set([1, 3, 6, 8, 10]);
const isBlackKey = (midi: number): boolean => blacks.has(midi % 12);

/** White keys in a row, black ones on the border behind the white key below, moved by so much (micrometres). */
export const geometryOf =
  (jitter: Readonly<Record<number, number>>): Geometry =>
  (midi) => {
    const step = midi % 12;
    const place = (7 * Math.floor(midi / 12) + (letters[step] as number)) * white;
    return isBlackKey(midi) ? place + white / 2 + (jitter[step] as number) : place;
  };

/** C♯ and D♯ a tenth of a white key off the border, F♯ and A♯ a seventh, G♯ on it. */
export const usualGeometry = geometryOf({
  1: -Math.round(white / 10),
  3: Math.round(white / 10),
  6: -Math.round(white / 7),
  8: 0,
  10: Math.round(white / 7),
});

/** Pair; widest at reach 8, 9, 10 in mm; growth a step in units; relaxed least; relaxed most at 8, 9, 10 in units. */
const limits = `
1-2 130.00 130.00 141.75 0.5 1 3 5 6
1-3 153.50 177.00 188.75 1.5 3 6 9 9
1-4 165.25 188.75 200.50 1.5 5 8 11 11
1-5 177.00 200.50 224.00 2 7 10 12 12
2-3 83.00 94.75 94.75 0.5 1 2 2 2
2-4 106.50 106.50 106.50 0 3 4 4 4
2-5 130.00 153.50 153.50 1 5 6 6 6
3-4 59.50 59.50 59.50 0 1 2 2 2
3-5 106.50 106.50 106.50 0 3 4 4 4
4-5 83.00 83.00 83.00 0 1 2 2 2
`;
const unit = 11_750;

interface Limit {
  readonly most: number;
  readonly relaxedLeast: number;
  readonly relaxedMost: number;
}

const limitsByReach = new Map<number, ReadonlyMap<string, Limit>>();

function limitsOf(reach: number): ReadonlyMap<string, Limit> {
  const known = limitsByReach.get(reach);
  if (known !== undefined) return known;
  const found = new Map<string, Limit>();
  for (const line of limits.trim().split("\n")) {
    const [pair = "", ...texts] = line.split(" ");
    const [at8, at9, at10, growth, least, relaxed8, relaxed9, relaxed10] = texts.map(Number) as [
      number,
      number,
      number,
      number,
      number,
      number,
      number,
      number,
    ];
    const step = growth * unit;
    const most =
      reach <= 8
        ? at8 * 1000 - (8 - reach) * step
        : reach >= 10
          ? at10 * 1000 + (reach - 10) * step
          : at9 * 1000;
    const relaxed = reach <= 8 ? relaxed8 : reach >= 10 ? relaxed10 : relaxed9;
    found.set(pair, { most, relaxedLeast: least * unit, relaxedMost: relaxed * unit });
  }
  limitsByReach.set(reach, found);
  return found;
}

/** All lists of fingers that don't fall (right hand) or don't rise (left hand) along the keys, from the lowest up. */
function lists(size: number, hand: Hand): readonly (readonly number[])[] {
  if (size === 0) return [[]];
  return lists(size - 1, hand).flatMap((list) => {
    const last = list[list.length - 1];
    return [1, 2, 3, 4, 5]
      .filter((it) => last === undefined || (hand === "right" ? it >= last : it <= last))
      .map((it) => [...list, it]);
  });
}

const memo = new Map<string, readonly (readonly number[])[]>();
function listsOf(size: number, hand: Hand): readonly (readonly number[])[] {
  const name = `${size} ${hand}`;
  let found = memo.get(name);
  if (found === undefined) {
    const inTurn =
      hand === "right" ? (list: readonly number[]) => list : (list: readonly number[]) => [...list].reverse();
    // In dictionary order as read from the thumb's side.
    found = [...lists(size, hand)].sort((a, b) => (inTurn(a).join("") < inTurn(b).join("") ? -1 : 1));
    memo.set(name, found);
  }
  return found;
}

/** No finger twice but the thumb, on two keys next to each other of one colour. */
function isAllowed(list: readonly number[], keys: readonly number[]): boolean {
  const places = (finger: number): readonly number[] => keys.filter((_, i) => list[i] === finger);
  if ([2, 3, 4, 5].some((finger) => places(finger).length > 1)) return false;
  const [a, b, c] = places(1);
  if (c !== undefined) return false;
  return a === undefined || b === undefined || areNeighbours(a, b);
}

function areNeighbours(a: number, b: number): boolean {
  if (isBlackKey(a) !== isBlackKey(b)) return false;
  if (isBlackKey(a)) return b - a === 2;
  // Side by side: C–D … A–B a whole tone, E–F and B–C a half step.
  return b - a === (a % 12 === 4 || a % 12 === 11 ? 1 : 2);
}

interface Pair {
  readonly fingers: readonly [number, number];
  readonly keys: readonly [number, number];
  readonly width: number;
  readonly limit: Limit;
}

function pairsOf(
  list: readonly number[],
  keys: readonly number[],
  reach: number,
  at: Geometry,
): readonly Pair[] {
  const pairs: Pair[] = [];
  const table = limitsOf(reach);
  for (let i = 0; i < keys.length; i++) {
    for (let j = i + 1; j < keys.length; j++) {
      const [f, g, a, b] = [list[i], list[j], keys[i], keys[j]] as [number, number, number, number];
      if (f === g) continue;
      const limit = table.get(f < g ? `${f}-${g}` : `${g}-${f}`) as Limit;
      pairs.push({ fingers: [f, g], keys: [i, j], width: at(b) - at(a), limit });
    }
  }
  return pairs;
}

const over = (amount: number): number => Math.max(0, amount);

/** Twice the cost, so that it stays a whole number. */
function costOf(list: readonly number[], keys: readonly number[], pairs: readonly Pair[]): number {
  let cost = 0;
  for (const { width, limit } of pairs) {
    // What is comfortable ends two units before the widest, which has 12.5 mm of slack in it.
    const comfortable = limit.most - 12_500 - 2 * unit;
    cost +=
      2 *
      (over(width - limit.relaxedMost) + 2 * over(width - comfortable) + over(limit.relaxedLeast - width));
  }
  const on = (finger: number): readonly number[] => keys.filter((_, i) => list[i] === finger);
  const thumb = on(1);
  if (thumb.some(isBlackKey)) cost += 2 * unit;
  if (on(5).some(isBlackKey)) cost += unit;
  if (thumb.length === 2) cost += 2 * unit * (thumb.some(isBlackKey) ? 6 : 3);
  return cost;
}

/** Whether a hand holds the keys (ascending MIDI numbers), and nothing else: for other geometries. */
export const holds = (keys: readonly number[], hand: Hand, reach: number, at: Geometry): boolean =>
  keys.length <= 6 &&
  listsOf(keys.length, hand).some(
    (list) =>
      isAllowed(list, keys) &&
      pairsOf(list, keys, reach, at).every(({ width, limit }) => width <= limit.most),
  );

/** The whole verdict: the fingering, or the reasons in words. */
export function judged(keys: readonly number[], hand: Hand, reach: number): Verdict {
  const no = (...reasons: readonly string[]): Verdict => ({ fingers: undefined, easy: false, reasons });
  const at = usualGeometry;
  const count = keys.length;
  if (count > 6) return no(`too-many-keys ${count} of 6`);
  let best: { list: readonly number[]; cost: number; pairs: readonly Pair[] } | undefined;
  let nearest: { sum: number; pairs: readonly Pair[] } | undefined;
  for (const list of listsOf(count, hand)) {
    if (!isAllowed(list, keys)) continue;
    const pairs = pairsOf(list, keys, reach, at);
    const sum = pairs.reduce((all, { width, limit }) => all + over(width - limit.most), 0);
    if (nearest === undefined || sum < nearest.sum) nearest = { sum, pairs };
    if (sum > 0) continue;
    const cost = costOf(list, keys, pairs);
    if (best === undefined || cost < best.cost) best = { list, cost, pairs };
  }
  if (best !== undefined) {
    const easy = best.pairs.every(({ width, limit }) => width <= limit.most - 2 * unit);
    return { fingers: best.list.join("-"), easy, reasons: [] };
  }
  const [lowest, highest] = [keys[0] as number, keys[count - 1] as number];
  const widest = limitsOf(reach).get("1-5")?.most ?? 0;
  const width = at(highest) - at(lowest);
  if (width > widest) return no(`too-wide 0-${count - 1} ${width} of ${widest}`);
  if (nearest === undefined) return no(`no-thumb-pair ${count}`);
  const far = nearest.pairs.filter((it) => it.width > it.limit.most);
  return no(
    ...far
      .map((it) => `span ${it.fingers.join("-")} ${it.keys.join("-")} ${it.width} of ${it.limit.most}`)
      .sort(),
  );
}

/** A list of fingers as `judged` writes it. */
export const fingerText = (fingers: readonly Finger[]): string => fingers.join("-");
