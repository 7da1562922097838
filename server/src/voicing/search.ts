import { placeOf } from "../keyboard/key-place.js";
import { highestKey, lowestKey } from "../keyboard/keyboard-range.js";
import { handTravel, travel, travelTime } from "../keyboard/leap.js";
import type { Chord } from "../theory/chord.js";
import type { Asked } from "./asked.js";
import { type Candidate, candidatesFor, type Served } from "./candidates.js";
import { moveCost, moveTerms, type Outline, outlineOf, ownTerms, sumOf, type Terms } from "./costs.js";
import { twelveMoves } from "./playable.js";
import { type Style, type StyleName, styleNamed } from "./styles.js";
import type { Step, Voicing } from "./voicing.js";

/** A chord of a passage as it is voiced. */
export interface VoicedStep {
  readonly voicing: Voicing;
  /** The style that could serve the chord: the one asked for, or the nearest to it. */
  readonly served: StyleName;
  /** What it costs on its own and to come there from the step before. */
  readonly terms: Terms;
}

/** A chord that no style can serve there. */
export interface UnvoicedStep {
  readonly voicing: undefined;
  /** No voicing is playable and clear there, or none can be reached in the time. */
  readonly reason: "none" | "time";
}

/** A passage as it is voiced, a step for each that was given. */
export interface Passage {
  readonly steps: readonly (VoicedStep | UnvoicedStep)[];
  /** Of all steps; the less the better. */
  readonly cost: number;
}

/** Another voicing of one step, with the rest of the passage adapted to it. */
export interface Alternative {
  readonly passage: Passage;
  /** How much more the passage costs than the best one: 0 for the best itself. */
  readonly more: number;
}

/**
 * The best voicing of a passage in a style: the least sum of all costs over every way through every voicing that the
 * style allows (dynamic programming; exact). A chord that the style can't serve takes the nearest style. Of ways that
 * cost the same the one with the lower keys is taken, so the same passage is voiced the same always.
 */
export function voicePassage(steps: readonly Step[], asked: Asked): Passage {
  const lattice = latticeOf(steps, asked);
  const last = lattice.layers.at(-1);
  return passageThrough(
    lattice,
    last === undefined ? [] : wayTo(lattice, lattice.layers.length - 1, best(last.cost)),
  );
}

/**
 * The best few voicings of one step that differ there, the best of all first, each with the rest of the passage as it
 * suits it. Empty where the step can't be voiced, or there is no such step.
 */
export function alternativesAt(
  steps: readonly Step[],
  asked: Asked,
  index: number,
  most: number,
): readonly Alternative[] {
  const lattice = latticeOf(steps, asked);
  const at = lattice.layers.findIndex((layer) => layer.step === index);
  const layer = lattice.layers[at];
  if (layer === undefined) return [];
  const onward = onwardFrom(lattice, at);
  const ranked = layer.candidates
    .map((_, i) => ({ i, cost: (layer.cost[i] as number) + (onward.cost[i] as number) }))
    .filter(({ cost }) => cost < Number.POSITIVE_INFINITY)
    .sort((a, b) => a.cost - b.cost || a.i - b.i);
  const least = ranked[0]?.cost ?? 0;
  return ranked.slice(0, most).map(({ i, cost }) => ({
    passage: passageThrough(lattice, [...wayTo(lattice, at, i), ...onward.way(i)]),
    more: cost - least,
  }));
}

/** All that a step may be, and the cheapest way to each. */
interface Layer extends Served {
  readonly step: number;
  readonly style: Style;
  readonly weighed: readonly WeighedCandidate[];
  /** The cheapest way to each candidate and with it; infinite where its hands have no time to come there. */
  readonly cost: readonly number[];
  /** The candidate of the layer before on that way, -1 in the first. */
  readonly from: readonly number[];
  /** Milliseconds from the layer before. */
  readonly time: number | undefined;
}

interface Lattice {
  readonly steps: readonly Step[];
  readonly asked: Asked;
  /** Steps that nothing serves are left out. */
  readonly layers: readonly Layer[];
  readonly unserved: ReadonlyMap<number, UnvoicedStep["reason"]>;
}

function latticeOf(steps: readonly Step[], asked: Asked): Lattice {
  const layers: Layer[] = [];
  const unserved = new Map<number, UnvoicedStep["reason"]>();
  const nexts = nextChords(steps);
  const style = styleNamed(asked.style);
  if (style === undefined)
    return { steps, asked, layers, unserved: new Map(steps.map((_, i) => [i, "none"])) };
  const styles = [style, ...style.nearest.flatMap((name) => styleNamed(name) ?? [])];
  /** Since the last layer, as far as tempi say. */
  let time: number | undefined = 0;
  steps.forEach((step, index) => {
    let reason: UnvoicedStep["reason"] | undefined = "none";
    for (const it of styles) {
      const served = candidatesFor(step, nexts[index], it, asked);
      if (served.candidates.length === 0) continue;
      const layer = layerOf(served, index, it, layers.at(-1), layers.length === 0 ? undefined : time, asked);
      if (layer.cost.every((cost) => cost === Number.POSITIVE_INFINITY)) {
        reason = "time";
        continue;
      }
      layers.push(layer);
      reason = undefined;
      time = 0;
      break;
    }
    if (reason !== undefined) unserved.set(index, reason);
    time = time === undefined || step.time === undefined ? undefined : time + step.time;
  });
  return { steps, asked, layers, unserved };
}

/** For each step the next chord that is another. */
function nextChords(steps: readonly Step[]): readonly (Chord | undefined)[] {
  const nexts: (Chord | undefined)[] = [];
  for (let i = steps.length - 1; i >= 0; i--) {
    const after = steps[i + 1]?.chord;
    const own = (steps[i] as Step).chord;
    nexts[i] = after === undefined || !isSame(after, own) ? after : nexts[i + 1];
  }
  return nexts;
}

const isSame = (a: Chord, b: Chord): boolean =>
  a.root === b.root && a.bass === b.bass && a.quality.symbol === b.quality.symbol;

function layerOf(
  served: Served,
  step: number,
  style: Style,
  before: Layer | undefined,
  time: number | undefined,
  asked: Asked,
): Layer {
  const weighed = weigh(served, style, asked);
  if (before === undefined)
    return {
      ...served,
      step,
      style,
      weighed,
      cost: weighed.map(({ own }) => own),
      from: weighed.map(() => -1),
      time,
    };
  const cost: number[] = [];
  const from: number[] = [];
  const ranked = rank(before.cost);
  for (const to of weighed) {
    let [least, way] = [Number.POSITIVE_INFINITY, -1];
    for (const p of ranked) {
      const there = before.cost[p] as number;
      // No move costs less than nothing, so what comes after can only be dearer.
      if (there >= least) break;
      const move = costOfMove(before.weighed[p] as WeighedCandidate, to, style, time, asked, least - there);
      if (there + move < least) [least, way] = [there + move, p];
    }
    cost.push(least + to.own);
    from.push(way);
  }
  return { ...served, step, style, weighed, cost, from, time };
}

/** Indexes from the cheapest to the dearest, equals in their own order. */
const rank = (costs: readonly number[]): readonly number[] =>
  costs.map((_, i) => i).sort((a, b) => (costs[a] as number) - (costs[b] as number) || a - b);

const best = (costs: readonly number[]): number =>
  costs.reduce((least, cost, i) => (cost < (costs[least] as number) ? i : least), 0);

interface WeighedCandidate {
  readonly outline: Outline;
  /** What it costs on its own. */
  readonly own: number;
}

/** Remembered with the candidates. */
const known = new WeakMap<Served, readonly WeighedCandidate[]>();

function weigh(served: Served, style: Style, asked: Asked): readonly WeighedCandidate[] {
  let weighed = known.get(served);
  if (weighed === undefined) {
    const context = contextOf(served);
    weighed = served.candidates.map((it) => ({
      outline: outlineOf(it, served.tones, style),
      own: sumOf(ownTerms(it, context, style, asked)),
    }));
    known.set(served, weighed);
  }
  return weighed;
}

const contextOf = ({
  tones,
  candidates,
}: Served): { readonly tones: Served["tones"]; readonly most: number } => ({
  tones,
  most: candidates.reduce((most, { keys }) => Math.max(most, keys.length), 0),
});

/** What a move costs, or that it is `enough` or more; infinite where a hand has no time for it. */
function costOfMove(
  { outline: from }: WeighedCandidate,
  { outline: to }: WeighedCandidate,
  style: Style,
  time: number | undefined,
  asked: Asked,
  enough: number,
): number {
  if (time !== undefined && time < longestTravel && !isInTime(from, to, time, asked))
    return Number.POSITIVE_INFINITY;
  return moveCost(from, to, style, asked, enough);
}

/** No way on the keyboard takes longer. */
const longestTravel = travelTime(placeOf(highestKey) - placeOf(lowestKey));

/** Whether both hands have the time to come from one voicing to another, in every key that is asked for. */
function isInTime(from: Outline, to: Outline, time: number, { reach, moves, everyKey }: Asked): boolean {
  const keys = [0, ...moves, ...(everyKey ? twelveMoves : [])];
  const isReached = (before: readonly number[], after: readonly number[], hand: "left" | "right"): boolean =>
    before.length === 0 ||
    after.length === 0 ||
    keys.every((by) => {
      const [there, here] = [moved(before, by), moved(after, by)];
      if (travelTime(travel(there, here, reach[hand])) <= time) return true;
      return travelTime(handTravel(there, here, hand, reach[hand])) <= time;
    });
  return isReached(from.leftKeys, to.leftKeys, "left") && isReached(from.rightKeys, to.rightKeys, "right");
}

const moved = (keys: readonly number[], by: number): readonly number[] => keys.map((key) => key + by);

/** The candidates on the cheapest way to one of a layer, with it. */
function wayTo({ layers }: Lattice, at: number, index: number): readonly number[] {
  const way = [index];
  for (let i = at; i > 0; i--) way.push((layers[i] as Layer).from[way[way.length - 1] as number] as number);
  return way.reverse();
}

/** What follows each candidate of a layer at the least. */
interface Onward {
  /** Without the candidate itself. */
  readonly cost: readonly number[];
  /** The candidates after it, one a layer. */
  readonly way: (index: number) => readonly number[];
}

function onwardFrom({ layers, asked }: Lattice, at: number): Onward {
  let cost: readonly number[] = (layers.at(-1) as Layer).candidates.map(() => 0);
  const next: (readonly number[])[] = [];
  for (let i = layers.length - 2; i >= at; i--) {
    const after = layers[i + 1] as Layer;
    const there = after.weighed.map(({ own }, j) => own + (cost[j] as number));
    const ranked = rank(there);
    const steps = (layers[i] as Layer).weighed.map((from) => {
      let [least, way] = [Number.POSITIVE_INFINITY, -1];
      for (const j of ranked) {
        const onward = there[j] as number;
        if (onward >= least) break;
        const to = after.weighed[j] as WeighedCandidate;
        const sum = onward + costOfMove(from, to, after.style, after.time, asked, least - onward);
        if (sum < least) [least, way] = [sum, j];
      }
      return { least, way };
    });
    cost = steps.map(({ least }) => least);
    next[i] = steps.map(({ way }) => way);
  }
  return {
    cost,
    way(index) {
      const ways: number[] = [];
      for (let i = at, from = index; i < layers.length - 1; i++) {
        from = next[i]?.[from] as number;
        ways.push(from);
      }
      return ways;
    },
  };
}

function passageThrough({ steps, asked, layers, unserved }: Lattice, way: readonly number[]): Passage {
  const voiced: (VoicedStep | UnvoicedStep)[] = steps.map((_, i) => ({
    voicing: undefined,
    reason: unserved.get(i) ?? "none",
  }));
  let cost = 0;
  layers.forEach((layer, i) => {
    const it = layer.candidates[way[i] as number] as Candidate;
    const to = layer.weighed[way[i] as number] as WeighedCandidate;
    const from = layers[i - 1]?.weighed[way[i - 1] as number];
    const terms = {
      ...ownTerms(it, contextOf(layer), layer.style, asked),
      ...(from === undefined ? {} : moveTerms(from.outline, to.outline, layer.style, asked)),
    };
    cost += sumOf(terms);
    voiced[layer.step] = { voicing: { left: it.left, right: it.right }, served: layer.style.name, terms };
  });
  return { steps: voiced, cost };
}
