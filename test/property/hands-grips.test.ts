import fc from "fast-check";
import { expect, test } from "vitest";
import { type Grip, grip, movedGrip, type Reason } from "../../server/src/keyboard/grip.js";
import type { Hand } from "../../server/src/keyboard/hand.js";
import { isBlack, placeOf } from "../../server/src/keyboard/key-place.js";
import { handTravel, travel, travelTime } from "../../server/src/keyboard/leap.js";
import { fingerText, judged } from "../support/exhaustive-grip.js";
import { property } from "../support/property.js";

const hands = fc.constantFrom<Hand>("left", "right");
const reaches = fc.integer({ min: 5, max: 15 });

/** Distinct keys, ascending, from narrow clusters to far more than a hand. */
const keySets = (most: number): fc.Arbitrary<readonly number[]> =>
  fc
    .tuple(fc.integer({ min: 21, max: 80 }), fc.integer({ min: 1, max: 28 }))
    .chain(([lowest, width]) =>
      fc.uniqueArray(fc.integer({ min: lowest, max: lowest + width }), { minLength: 1, maxLength: most }),
    )
    .map((keys) => keys.sort((a, b) => a - b));

const grips = fc.record({ keys: keySets(6), hand: hands, reach: reaches });

function reasonText(reason: Reason): string {
  switch (reason.kind) {
    case "too-many-keys":
      return `too-many-keys ${reason.count} of ${reason.most}`;
    case "no-thumb-pair":
      return `no-thumb-pair ${reason.count}`;
    case "too-wide":
      return `too-wide ${reason.keys.join("-")} ${reason.width} of ${reason.limit}`;
    case "span":
      return `span ${reason.fingers.join("-")} ${reason.keys.join("-")} ${reason.width} of ${reason.limit}`;
  }
}

const verdict = (it: Grip): object =>
  it.holds
    ? { fingers: fingerText(it.fingers), easy: it.strain === "easy", reasons: [] }
    : { fingers: undefined, easy: false, reasons: it.reasons.map(reasonText).sort() };

property(
  "a grip is what a search of all fingerings, written from the model's description, says it is",
  fc.record({ keys: keySets(8), hand: hands, reach: reaches }),
  20_000,
  ({ keys, hand, reach }) => {
    expect(verdict(grip(keys, hand, reach))).toEqual(judged(keys, hand, reach));
  },
);

property(
  "taking a key out of a grip that holds leaves one that holds",
  grips,
  20_000,
  ({ keys, hand, reach }) => {
    if (keys.length < 2 || !grip(keys, hand, reach).holds) return;
    for (const out of keys)
      expect(
        grip(
          keys.filter((key) => key !== out),
          hand,
          reach,
        ).holds,
      ).toBe(true);
  },
);

property("what holds at a reach holds at the next", grips, 20_000, ({ keys, hand, reach }) => {
  if (grip(keys, hand, reach).holds) expect(grip(keys, hand, reach + 1).holds).toBe(true);
});

const mirrored = (it: Grip): object =>
  it.holds
    ? { holds: true, fingers: [...it.fingers].reverse(), strain: it.strain }
    : { holds: false, nearest: it.nearest === undefined ? undefined : [...it.nearest].reverse() };

const plain = (it: Grip): object =>
  it.holds
    ? { holds: true, fingers: [...it.fingers], strain: it.strain }
    : { holds: false, nearest: it.nearest === undefined ? undefined : [...it.nearest] };

// Twice D4, and twice G♯4.
for (const [name, sum] of [
  ["D", 124],
  ["G♯", 136],
] as const) {
  property(
    `the left hand is the right hand in the mirror about ${name}`,
    grips,
    20_000,
    ({ keys, reach }) => {
      const mirror = keys.map((key) => sum - key).reverse();
      expect(plain(grip(keys, "left", reach))).toEqual(mirrored(grip(mirror, "right", reach)));
    },
  );
}

property(
  "an octave higher or lower nothing changes, and a moved grip is the grip of the moved keys",
  fc.record({ keys: keySets(6), hand: hands, reach: reaches, by: fc.integer({ min: -21, max: 28 }) }),
  20_000,
  ({ keys, hand, reach, by }) => {
    const moved = keys.map((key) => key + by);
    expect(movedGrip(keys, by, hand, reach)).toEqual(grip(moved, hand, reach));
    expect(judged(moved, hand, reach)).toEqual(
      judged(
        moved.map((key) => key + 12),
        hand,
        reach,
      ),
    );
    expect(grip(moved, hand, reach)).toEqual(
      grip(
        moved.map((key) => key + 12),
        hand,
        reach,
      ),
    );
  },
);

test("of two white keys a reach holds what its number says, on all 52 keys", () => {
  const whites = Array.from({ length: 88 }, (_, i) => 21 + i).filter((key) => !isBlack(key));
  expect(whites.length).toBe(52);
  let judgedPairs = 0;
  for (let reach = 7; reach <= 12; reach++) {
    for (let interval = 2; interval <= 13; interval++) {
      for (let i = 0; i + interval - 1 < whites.length; i++) {
        const keys = [whites[i] as number, whites[i + interval - 1] as number];
        for (const hand of ["left", "right"] as const)
          expect(grip(keys, hand, reach).holds, `${keys} at ${reach}`).toBe(interval <= reach);
        judgedPairs++;
      }
    }
  }
  expect(judgedPairs).toBe(6 * 546);
});

property(
  "a leap is as far there as back, never less than nothing, and nothing to where the hand lies",
  fc.record({ a: keySets(6), b: keySets(6), reach: reaches }),
  20_000,
  ({ a, b, reach }) => {
    const far = travel(a, b, reach);
    expect(far).toBe(travel(b, a, reach));
    expect(far).toBeGreaterThanOrEqual(0);
    expect(travel(a, a, reach)).toBe(0);
    for (const key of a) expect(travel(a, [key], reach)).toBe(0);
    expect(travel(a, b, reach + 1)).toBeLessThanOrEqual(far);
    // In words: no further than the whole stretch of both.
    const ends = [...a, ...b].map(placeOf);
    expect(far).toBeLessThanOrEqual(Math.max(...ends) - Math.min(...ends));
  },
);

property(
  "a hand that holds two grips at once has no way between them, and any other the whole way",
  fc.record({ a: keySets(4), b: keySets(4), reach: reaches }),
  20_000,
  ({ a, b, reach }) => {
    const both = [...new Set([...a, ...b])].sort((one, other) => one - other);
    for (const hand of ["left", "right"] as const) {
      const far = handTravel(a, b, hand, reach);
      expect(far).toBe(grip(both, hand, reach).holds ? 0 : travel(a, b, reach));
      expect(far).toBe(handTravel(b, a, hand, reach));
      expect(handTravel(a, b, hand, reach + 1)).toBeLessThanOrEqual(far);
    }
  },
);

property(
  "a longer way takes longer, and no way no time",
  fc.tuple(fc.integer({ min: 0, max: 1_200_000 }), fc.integer({ min: 1, max: 1_200_000 })),
  5_000,
  ([distance, more]) => {
    expect(travelTime(distance + more)).toBeGreaterThan(travelTime(distance));
    expect(travelTime(0)).toBe(0);
  },
);
