import type { Bar } from "../chart/model.js";
import type { Shape } from "./drawing.js";
import { dot, stroke } from "./stand-sheet.js";

/** The bar line between two bars, or at either end of a line: `x` is where the next bar starts; a section ends in two. */
export function barLineShapes(
  x: number,
  top: number,
  bottom: number,
  before: Bar["repeat"] | undefined,
  after: Bar["repeat"] | undefined,
  isEnd: boolean,
): readonly Shape[] {
  const thin = (at: number): Shape =>
    stroke(
      [
        [at, top],
        [at, bottom],
      ],
      1,
    );
  const thick = (at: number): Shape =>
    stroke(
      [
        [at, top],
        [at, bottom],
      ],
      3,
    );
  const middle = (top + bottom) / 2;
  const dots = (at: number): Shape[] => [dot(at, middle - 4, 1.6), dot(at, middle + 4, 1.6)];
  const ends = before?.end === true;
  const starts = after?.start === true;
  if (ends && starts) return [...dots(x - 9), thin(x - 4.5), thick(x), thin(x + 4.5), ...dots(x + 9)];
  if (ends) return [...dots(x - 9), thin(x - 4.5), thick(x - 1.5)];
  if (starts) return [thick(x + 1.5), thin(x + 5.5), ...dots(x + 10)];
  if (isEnd || before?.double === true) return [thin(x - 3.5), thin(x - 0.5)];
  return [thin(x)];
}
