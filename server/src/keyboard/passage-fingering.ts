import { type FingeredGrip, fingeredGrip, type Move, moveBetween, moveCost } from "./finger-moves.js";
import { fingerings } from "./fingerings.js";
import type { Finger, Hand } from "./hand.js";

/** What a hand holds at one moment of a passage. */
export interface PassageGrip {
  /** Distinct MIDI numbers, ascending, at least one. */
  readonly keys: readonly number[];
  /** Those of them that are down already and stay down. */
  readonly held: readonly number[];
}

/**
 * The best fingering of a whole passage of one hand: for each grip a finger a key, from the lowest key up; `undefined`
 * where the hand can't hold it, which breaks the passage in two. Exact: no other choice costs less in all, and of
 * equals it is the first, grip by grip, in the order of `fingerings`. `reach` is 5 to 15, 8 an octave.
 */
export function passageFingering(
  grips: readonly PassageGrip[],
  hand: Hand,
  reach: number,
): readonly (readonly Finger[] | undefined)[] {
  const choices = grips.map(({ keys }) => choicesOf(keys, hand, reach));
  /** From each grip to the next. */
  const moves = grips
    .slice(1)
    .map(({ keys, held }, i) => moveBetween((grips[i] as PassageGrip).keys, keys, held));
  const costs = costsToEnd(choices, moves, hand, reach);
  let before: FingeredGrip | undefined;
  return choices.map((here, i) => {
    before = cheapest(here, costs[i] as readonly number[], (choice) =>
      before === undefined ? 0 : moveCost(before, choice, moves[i - 1] as Move, hand, reach),
    );
    return before?.fingers;
  });
}

const choicesOf = (keys: readonly number[], hand: Hand, reach: number): readonly FingeredGrip[] =>
  keys.length === 0 ? [] : fingerings(keys, hand, reach).map((it) => fingeredGrip(keys, it, hand));

/** What each choice costs from there to the end of its part of the passage, its own cost included. */
function costsToEnd(
  choices: readonly (readonly FingeredGrip[])[],
  moves: readonly Move[],
  hand: Hand,
  reach: number,
): readonly (readonly number[])[] {
  const costs: (readonly number[])[] = [];
  for (let i = choices.length - 1; i >= 0; i--) {
    const [next, nextCosts, move] = [choices[i + 1] ?? [], costs[i + 1] ?? [], moves[i]];
    costs[i] = (choices[i] as readonly FingeredGrip[]).map((from) => {
      let least = next.length === 0 ? 0 : Number.POSITIVE_INFINITY;
      for (let k = 0; k < next.length; k++) {
        const to = next[k] as FingeredGrip;
        const cost = moveCost(from, to, move as Move, hand, reach) + (nextCosts[k] as number);
        if (cost < least) least = cost;
      }
      return from.cost + least;
    });
  }
  return costs;
}

/** The first of the choices that cost the least, with what it costs to get there; `undefined` where there is none. */
function cheapest(
  choices: readonly FingeredGrip[],
  costs: readonly number[],
  costOfGettingTo: (choice: FingeredGrip) => number,
): FingeredGrip | undefined {
  let best: FingeredGrip | undefined;
  let least = Number.POSITIVE_INFINITY;
  choices.forEach((choice, k) => {
    const cost = costOfGettingTo(choice) + (costs[k] as number);
    if (cost < least) [best, least] = [choice, cost];
  });
  return best;
}
