import type { BarPlace } from "../exports/live-chart.js";

/** The bar in which an offset of the text stands; `undefined` between bars and outside of rows. */
export function barAt(bars: readonly BarPlace[], offset: number): BarPlace | undefined {
  let [low, high] = [0, bars.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((bars[middle] as BarPlace).from <= offset) low = middle + 1;
    else high = middle;
  }
  const it = bars[low - 1];
  return it !== undefined && offset <= it.to ? it : undefined;
}

/** Where a bar stands in the text, in each of its rows. */
export const placesOf = (
  bars: readonly BarPlace[],
  section: number,
  bar: number,
  pickup = false,
): readonly BarPlace[] =>
  bars.filter((it) => it.section === section && it.bar === bar && it.pickup === pickup);
