import type { PlacedStack } from "../chart/stack.js";
import { widestShape } from "../keyboard/grip-shape.js";

/** The shape of a stack above its lowest key, as if it were not rolled; `undefined` where it is wider than any hand. */
export function shapeOf({ tones, lowest }: PlacedStack): number | undefined {
  let shape = 0;
  for (const { pitch } of tones) {
    const above = pitch.midi - (lowest?.midi ?? 0);
    if (above === 0) continue;
    if (above > widestShape) return undefined;
    shape |= 1 << above;
  }
  return shape;
}
