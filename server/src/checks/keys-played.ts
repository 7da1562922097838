import type { Moved } from "../chart/model.js";
import { prettyKey } from "../theory/key.js";

/** The keys among those a section is played in that a fault is heard in, and whether the printed one is among them. */
export interface FailingKeys {
  /** For people; empty where it is heard in the one key that the section is played in. */
  readonly names: readonly string[];
  readonly printed: boolean;
}

/** In which of the keys that the form plays something fails; `undefined` where it fails in none. */
export function failingKeys(
  played: readonly Moved[],
  fails: (halfSteps: number) => boolean,
): FailingKeys | undefined {
  const failing = played.filter(({ halfSteps }) => fails(halfSteps));
  if (failing.length === 0) return undefined;
  const printed = failing.some(({ halfSteps }) => halfSteps === 0);
  const everywhere = printed && failing.length === played.length;
  return { names: everywhere ? [] : [...new Set(failing.map(({ key }) => prettyKey(key)))], printed };
}
