import { fingerings } from "../../server/src/keyboard/fingerings.js";
import { grip, movedGrip } from "../../server/src/keyboard/grip.js";
import { usualReach } from "../../server/src/keyboard/hand.js";
import { passageFingering } from "../../server/src/keyboard/passage-fingering.js";

/** What one piece of work takes, in microseconds, by round. */
export interface HandRow {
  readonly name: string;
  readonly microseconds: readonly number[];
  /** Microseconds. */
  readonly goal: number;
}

/** Grips of three to five keys within a tenth, the same in every run: some hold and some don't. */
function madeUpGrips(count: number): readonly (readonly number[])[] {
  let state = 1;
  const below = (end: number): number => {
    state = (state * 48_271) % 2_147_483_647;
    return state % end;
  };
  return Array.from({ length: count }, () => {
    const lowest = 53 + below(12);
    const keys = new Set([lowest]);
    const size = 3 + below(3);
    while (keys.size < size) keys.add(lowest + 1 + below(16));
    return [...keys].sort((a, b) => a - b);
  });
}

/** Runs work on each grip of a round; the first rounds warm the engine up and are not counted. */
function measured(
  pieces: number,
  work: () => number,
): { readonly times: readonly number[]; readonly sum: number } {
  const times: number[] = [];
  let sum = 0;
  for (let round = 0; round < 60; round++) {
    const start = performance.now();
    sum += work();
    const took = performance.now() - start;
    if (round >= 30) times.push((1_000 * took) / pieces);
  }
  return { times, sum };
}

/** The hand's work, and a sum of it that keeps the engine from leaving it out. */
export function measureHands(): { readonly rows: readonly HandRow[]; readonly sum: number } {
  const grips = madeUpGrips(300);
  const count = (each: (keys: readonly number[]) => number) => (): number =>
    grips.reduce((all, keys) => all + each(keys), 0);
  const one = measured(
    grips.length,
    count((keys) => (grip(keys, "right", usualReach).holds ? 1 : 0)),
  );
  const searched = measured(
    grips.length,
    count((keys) => fingerings(keys, "right", usualReach).length),
  );
  const twelve = measured(
    grips.length,
    count((keys) => {
      let held = 0;
      for (let by = -5; by <= 6; by++) if (movedGrip(keys, by, "left", usualReach).holds) held++;
      return held;
    }),
  );
  const held = grips.filter((keys) => grip(keys, "right", usualReach).holds).slice(0, 100);
  const passage = held.map((keys, i) => ({
    keys,
    held: i % 4 === 3 ? keys.filter((key) => held[i - 1]?.includes(key) === true) : [],
  }));
  if (passage.length !== 100) throw new Error("The passage should have 100 grips.");
  const fingered = measured(1, () => passageFingering(passage, "right", usualReach).length);
  return {
    rows: [
      { name: "one grip judged", microseconds: one.times, goal: 5 },
      { name: "  the same, its shape seen for the first time", microseconds: searched.times, goal: 5 },
      { name: "  in twelve keys", microseconds: twelve.times, goal: 50 },
      { name: "a passage of 100 grips fingered", microseconds: fingered.times, goal: 5_000 },
    ],
    sum: one.sum + searched.sum + twelve.sum + fingered.sum,
  };
}
