import { beatLength } from "../chart/bar-time.js";
import { barPad, linesIn, type MeasuredBar } from "./stand-bar.js";

/** A bar in parts that a line of this width holds, parted before a beat where one is near; most bars are one part. */
export function partsOfBar(measured: MeasuredBar, width: number): readonly MeasuredBar[] {
  if (measured.width <= width * mostShrunk || measured.isPickup) return [measured];
  const { n, d } = beatLength(measured.bar.meter);
  const isBeat = (at: number): boolean => Math.abs(((at * d) / n) % 1) < 1e-9;
  /** Where columns start, with what stands before them. */
  const columns = new Map<number, number>();
  for (const { item, x } of measured.items) {
    const there = columns.get(item.at);
    columns.set(item.at, Math.min(x - item.before, there ?? x));
  }
  const starts: { readonly at: number; readonly x: number }[] = [{ at: Number.NEGATIVE_INFINITY, x: 0 }];
  const all = [...columns].map(([at, x]) => ({ at, x })).sort((a, b) => a.at - b.at);
  all.forEach((column, i) => {
    const from = starts.at(-1)?.x ?? 0;
    const end = all[i + 1]?.x ?? measured.width;
    if (end - from + 2 * barPad <= width || column.x <= from + barPad) return;
    const onBeat = all.slice(0, i + 1).findLast(({ at, x }) => isBeat(at) && x > from + width / 2);
    starts.push(onBeat ?? column);
  });
  return starts.map(({ at, x: start }, i) => {
    const next = starts[i + 1];
    const shift = i === 0 ? 0 : start - barPad;
    const items = measured.items
      .filter(({ item }) => item.at >= at && (next === undefined || item.at < next.at))
      .map(({ item, x }) => ({ item, x: x - shift }));
    return {
      ...measured,
      width: (next?.x ?? measured.width) - shift,
      items,
      lines: linesIn(items.map(({ item }) => item)),
      part: { isFirst: i === 0, isLast: next === undefined },
    };
  });
}

/** A bar that is a little wider than its line is printed a little smaller. */
const mostShrunk = 1.2;
