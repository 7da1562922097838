import fc from "fast-check";
import { expect } from "vitest";
import {
  type FingeredGrip,
  fingeredGrip,
  moveBetween,
  moveCost,
} from "../../server/src/keyboard/finger-moves.js";
import { fingerings } from "../../server/src/keyboard/fingerings.js";
import { grip } from "../../server/src/keyboard/grip.js";
import type { Hand } from "../../server/src/keyboard/hand.js";
import { type PassageGrip, passageFingering } from "../../server/src/keyboard/passage-fingering.js";
import { property } from "../support/property.js";

const hands = fc.constantFrom<Hand>("left", "right");
const reaches = fc.integer({ min: 7, max: 12 });

/** Near each other, so that keys are shared; some stay down. */
function passages(mostGrips: number, mostKeys: number): fc.Arbitrary<readonly PassageGrip[]> {
  const one = fc
    .tuple(
      fc.uniqueArray(fc.integer({ min: 55, max: 72 }), { minLength: 1, maxLength: mostKeys }),
      fc.array(fc.boolean(), { minLength: mostKeys, maxLength: mostKeys }),
    )
    .map(([keys, stays]) => ({ keys: keys.sort((a, b) => a - b), stays }));
  return fc.array(one, { minLength: 2, maxLength: mostGrips }).map((all) =>
    all.map(({ keys, stays }, i) => ({
      keys,
      held: keys.filter((key, k) => stays[k] === true && all[i - 1]?.keys.includes(key) === true),
    })),
  );
}

/** Every path there is, one after the other; the first of the least costly ones. */
function bestOfAllPaths(
  passage: readonly PassageGrip[],
  hand: Hand,
  reach: number,
): { readonly cost: number; readonly path: readonly FingeredGrip[] } {
  let best: { cost: number; path: readonly FingeredGrip[] } = { cost: Number.POSITIVE_INFINITY, path: [] };
  const walk = (i: number, path: readonly FingeredGrip[], cost: number): void => {
    const here = passage[i];
    if (here === undefined) {
      if (cost < best.cost) best = { cost, path };
      return;
    }
    const last = path[path.length - 1];
    for (const fingering of fingerings(here.keys, hand, reach)) {
      const next = fingeredGrip(here.keys, fingering, hand);
      const move =
        last === undefined
          ? 0
          : moveCost(last, next, moveBetween(last.keys, here.keys, here.held), hand, reach);
      walk(i + 1, [...path, next], cost + move + next.cost);
    }
  };
  walk(0, [], 0);
  return best;
}

const isHeld =
  (hand: Hand, reach: number) =>
  ({ keys }: PassageGrip): boolean =>
    grip(keys, hand, reach).holds;

property(
  "the fingering of a passage costs no more than any other, and is the first of its cost",
  fc.record({ passage: passages(4, 4), hand: hands, reach: reaches }),
  300,
  ({ passage, hand, reach }) => {
    const all = passage.filter(isHeld(hand, reach));
    const { path } = bestOfAllPaths(all, hand, reach);
    expect(passageFingering(all, hand, reach)).toEqual(path.map(({ fingers }) => fingers));
  },
);

property(
  "a grip that can't be held has no fingering, and what stands before and after it is fingered without it",
  fc.record({ passage: passages(12, 5), hand: hands, reach: reaches }),
  1_000,
  ({ passage, hand, reach }) => {
    const found = passageFingering(passage, hand, reach);
    const parts: PassageGrip[][] = [[]];
    for (const it of passage) {
      if (isHeld(hand, reach)(it)) parts[parts.length - 1]?.push(it);
      else parts.push([]);
    }
    const alone = parts.map((part) => passageFingering(part, hand, reach));
    expect(found.filter((it) => it !== undefined)).toEqual(alone.flat());
    expect(found.map((it) => it !== undefined)).toEqual(passage.map(isHeld(hand, reach)));
  },
);

property(
  "the left hand fingers a passage as the right hand does in the mirror",
  fc.record({ passage: passages(12, 5), reach: reaches }),
  1_000,
  ({ passage, reach }) => {
    const mirror = passage.map(({ keys, held }) => ({
      keys: keys.map((key) => 124 - key).reverse(),
      held: held.map((key) => 124 - key),
    }));
    const right = passageFingering(mirror, "right", reach).map((it) => it && [...it].reverse());
    expect(passageFingering(passage, "left", reach)).toEqual(right);
  },
);

property(
  "a chord that is repeated keeps its fingers",
  fc.record({ passage: passages(6, 5), hand: hands, reach: reaches }),
  1_000,
  ({ passage, hand, reach }) => {
    const doubled = passage.flatMap(({ keys }) => [keys, keys]).map((keys) => ({ keys, held: [] }));
    const found = passageFingering(doubled, hand, reach);
    for (let i = 0; i < found.length; i += 2) {
      // A single note may change its finger for the way that lies ahead.
      if ((doubled[i]?.keys.length ?? 0) > 1) expect(found[i + 1]).toEqual(found[i]);
    }
  },
);
