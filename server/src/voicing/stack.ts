import { chordNumber } from "../theory/chord.js";
import type { Pitch } from "../theory/pitch.js";
import { fifthsAbove, keyAbove, type ToneNumber } from "../theory/tone-number.js";
import { type ChordTones, keyOf } from "./chord-tones.js";
import { fourthsOn, upperTriads } from "./scale-stacks.js";
import type { Part, Shape, Want } from "./styles.js";
import type { Voice } from "./voicing.js";

/** The melody as a tone of the chord under it. */
interface Top {
  readonly midi: number;
  readonly number: ToneNumber;
}

/**
 * Every way in which a part lays out a chord within its register, each from the lowest voice up; with a melody only
 * those that have it on top. A melody that isn't among a set's tones joins it. Empty where the part can't serve the
 * chord.
 */
export function stacksOf(
  part: Part,
  tones: ChordTones,
  melody: Pitch | undefined,
): readonly (readonly Voice[])[] {
  const top: Top | undefined = melody && {
    midi: melody.midi,
    number: chordNumber(tones.chord, melody.fifths),
  };
  const found: (readonly Voice[])[] = [];
  for (const order of ordersOf(part, tones, top)) place(order, part, tones, melody, found);
  return found;
}

/** The tones of a layout from the lowest up, each the next above the one before. */
type Order = readonly ToneNumber[];

function ordersOf(part: Part, tones: ChordTones, top: Top | undefined): readonly Order[] {
  const { shape } = part;
  if (shape === "fourths") return within(fourthsOn(tones), part, top);
  if (shape === "triad") {
    const inversions = upperTriads(tones).flatMap(rotations);
    const doubled = inversions.map((it) => [...it, it[0] as ToneNumber]);
    return within([...inversions, ...doubled], part, top);
  }
  const isListed = shape === "listed";
  const sets = new Map<string, Order>();
  const [least, most] = part.voices;
  // A chord of two tones can't be given three.
  const fewest = Math.min(least, tones.chord.quality.tones.length + (top === undefined ? 0 : 1));
  for (const wanted of part.tones) {
    for (const set of setsOf(wanted, tones)) {
      const whole = top === undefined || has(set, top.number) ? set : [...set, top.number];
      const voices = shape === "octave" ? whole.length + 1 : whole.length;
      if (voices < fewest || voices > (isListed && top !== undefined ? most + 1 : most)) continue;
      sets.set(isListed ? nameOf(whole) : nameOf([...whole].sort(byKey)), whole);
    }
  }
  return within(
    [...sets.values()].flatMap((set) => shapes[shape](set)),
    { shape, voices: [0, most + 1] },
    top,
  );
}

const byKey = (a: ToneNumber, b: ToneNumber): number => keyAbove(a) - keyAbove(b);
const nameOf = (set: Order): string => set.map(keyAbove).join(" ");
const isSameKey = (a: ToneNumber, b: ToneNumber): boolean => keyAbove(a) === keyAbove(b);
const has = (set: Order, n: ToneNumber): boolean => set.some((it) => isSameKey(it, n));

/** Of some orders those of the right number of voices and with the melody on top. */
const within = (
  orders: readonly Order[],
  { voices: [least, most] }: { readonly shape: Shape; readonly voices: Part["voices"] },
  top: Top | undefined,
): readonly Order[] =>
  orders.filter(
    (order) =>
      order.length >= least &&
      order.length <= most &&
      (top === undefined || isSameKey(order[order.length - 1] as ToneNumber, top.number)),
  );

/** Every set of tones that fulfils the wants: no tone twice. */
function setsOf(wanted: readonly Want[], { roles }: ChordTones): readonly Order[] {
  let sets: readonly Order[] = [[]];
  for (const { roles: any, standIns, mayBeLeftOut } of wanted) {
    const own = any.flatMap((role) => roles[role]);
    const choices = own.length > 0 ? own : standIns.flatMap((role) => roles[role]);
    sets = sets.flatMap((set) => [
      ...(mayBeLeftOut ? [set] : []),
      ...choices.filter((n) => !has(set, n)).map((n) => [...set, n]),
    ]);
  }
  return sets;
}

/** The inversions of a set in close position. */
function rotations(set: Order): readonly Order[] {
  const sorted = [...set].sort(byKey);
  return sorted.map((_, i) => [...sorted.slice(i), ...sorted.slice(0, i)]);
}

const shapes: Readonly<Record<Exclude<Shape, "fourths" | "triad">, (set: Order) => readonly Order[]>> = {
  listed: (set) => [set],
  close: rotations,
  octave: (set) => rotations(set).map((order) => [...order, order[0] as ToneNumber]),
  "drop 2": (set) =>
    rotations(set).map((order) => {
      const dropped = order[order.length - 2] as ToneNumber;
      return [dropped, ...order.filter((n) => n !== dropped)];
    }),
  spread: (set) => spread(set, []),
};

/** Half steps from a tone up to the next above it. */
const stepUp = (from: ToneNumber, to: ToneNumber): number =>
  ((keyAbove(to) - keyAbove(from) + 11 + 12) % 12) + 1;

/** The least step between neighbours of a spread layout, in half steps: a third. Between three or more on the average: a major third. */
const [leastSpread, meanSpread] = [3, 4];

const widthOf = (order: Order): number =>
  order.slice(1).reduce((sum, n, i) => sum + stepUp(order[i] as ToneNumber, n), 0);

function spread(rest: Order, below: Order): readonly Order[] {
  if (rest.length === 0)
    return below.length > 2 && widthOf(below) < meanSpread * (below.length - 1) ? [] : [below];
  const last = below[below.length - 1];
  return rest
    .filter(
      (n) => last === undefined || (stepUp(last, n) >= leastSpread && stepUp(last, n) <= 12 - leastSpread),
    )
    .flatMap((n) =>
      spread(
        rest.filter((it) => it !== n),
        [...below, n],
      ),
    );
}

/** Puts an order everywhere in its register, or under the melody. */
function place(
  order: Order,
  { register: [lowest, highest] }: Part,
  { chord }: ChordTones,
  melody: Pitch | undefined,
  found: (readonly Voice[])[],
): void {
  const first = order[0];
  if (first === undefined) return;
  const above: number[] = [0];
  for (let i = 1; i < order.length; i++)
    above.push((above[i - 1] as number) + stepUp(order[i - 1] as ToneNumber, order[i] as ToneNumber));
  const width = above[above.length - 1] as number;
  const start =
    melody === undefined ? lowest + ((keyOf(chord.root, first) - lowest + 120) % 12) : melody.midi - width;
  const end = melody === undefined ? highest - width : start;
  if (start < lowest) return;
  for (let key = start; key <= end; key += 12) {
    found.push(
      order.map((number, i) => {
        const isMelody = melody !== undefined && i === order.length - 1;
        const midi = key + (above[i] as number);
        return {
          pitch: isMelody ? melody : { fifths: chord.root + fifthsAbove(number), midi },
          number: isMelody ? chordNumber(chord, melody.fifths) : number,
        };
      }),
    );
  }
}
