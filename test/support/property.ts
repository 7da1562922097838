import fc from "fast-check";
import { expect, test } from "vitest";

/** The seed of every property where `PLAGAL_SEED` doesn't give another: tests run without chance. */
const fixedSeed = 20_270_314;

const fromEnvironment = (name: string): number | undefined => {
  const text = process.env[name];
  return text === undefined || text === "" ? undefined : Number(text);
};

/**
 * Tries a property in the test that calls it. `runs` is multiplied by `PLAGAL_RUNS`; the seed is printed before the
 * run, so that `PLAGAL_SEED` finds the same values again. `PLAGAL_SHRINK=1` looks for the plainest value that fails,
 * which takes a while.
 */
export function assertProperty<T>(property: fc.IRawProperty<T, false>, runs = 100): void {
  const seed = fromEnvironment("PLAGAL_SEED") ?? fixedSeed;
  const numRuns = Math.max(1, Math.round(runs * (fromEnvironment("PLAGAL_RUNS") ?? 1)));
  console.log(`seed ${seed}, ${numRuns} runs: ${expect.getState().currentTestName}`);
  const endOnFailure = fromEnvironment("PLAGAL_SHRINK") === undefined;
  fc.assert(property, { seed, numRuns, endOnFailure });
}

/** A test that holds for every generated value. */
export function property<T>(
  name: string,
  values: fc.Arbitrary<T>,
  runs: number,
  holds: (value: T) => void,
): void {
  test(name, () => assertProperty(fc.property(values, holds), runs));
}
