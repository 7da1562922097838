import type { MoveText } from "../syntax/tree.js";
import { practical } from "../theory/key.js";
import { shorterWay } from "./home-octave.js";
import type { Displacement, HomeKey, Moved, Section } from "./model.js";

export const noDisplacement: Displacement = { fifths: 0, halfSteps: 0 };

/** How a word of `form` or `play` has a section played, in a chart whose own key is `chart`. */
export function movedBy(
  move: MoveText | undefined,
  { start }: Section,
  chart: HomeKey,
  displacement: Displacement = noDisplacement,
): Moved {
  if (move === undefined) return { key: start.key, halfSteps: 0 };
  if (move.kind === "by") return moveFurther({ key: start.key, halfSteps: 0 }, move.halfSteps);
  const written = { tonic: move.tonic.fifths + displacement.fifths, mode: start.key.mode };
  const key = displacement.fifths === 0 ? written : practical(written);
  const one = chart.one + shorterWay(chart.key.tonic, key.tonic);
  return { key, halfSteps: one - start.one };
}

/** The same, in a section that is itself moved: half steps add up, and the key takes its practical name. */
export function moveFurther({ key, halfSteps }: Moved, by: number): Moved {
  if (by === 0) return { key, halfSteps };
  return { key: practical({ ...key, tonic: key.tonic + 7 * by }, key.tonic), halfSteps: halfSteps + by };
}
