import { beatLength } from "../chart/bar-time.js";
import { coveredBars } from "../chart/covered-bars.js";
import { pickupLength } from "../chart/layout.js";
import type { Chart } from "../chart/model.js";
import { isTextRow } from "../syntax/text-row.js";
import { shift } from "../text/span.js";
import { compare, divide, type Fraction } from "../theory/fraction.js";
import type { ChartCheck } from "./check.js";
import { spanOfSlots } from "./row-bars.js";

/** A pickup that is longer than the bar that it covers. */
export const barLength: ChartCheck<"bar-length"> = {
  code: "bar-length",
  run(chart, report) {
    if (!mayBeTooLong(chart)) return;
    for (const [{ offset, path }, systems] of coveredBars(chart)) {
      if (path !== undefined) continue;
      for (const [{ rows, meter }, bar] of systems) {
        for (const { row, line, start } of rows) {
          if (isTextRow(row) || compare(pickupLength(line, meter), bar) <= 0) continue;
          const facts = { pickup: line.pickup.length, room: wholeBeats(bar, beatLength(meter)) };
          report(shift(spanOfSlots(line.pickup, start), offset), facts, { row });
        }
      }
    }
  },
};

/** Whether any pickup of the chart is longer than its shortest bar. Hardly ever, and that is told sooner than which bar it covers. */
function mayBeTooLong({ outline, sections }: Chart): boolean {
  if (outline.contents.holding.pickup.length === 0 && sections.length === outline.sections.length)
    return false;
  let pickup: Fraction | undefined;
  let bar: Fraction | undefined;
  for (const { section } of sections) {
    const { longestPickup, shortestBar } = section;
    if (pickup === undefined || compare(longestPickup, pickup) > 0) pickup = longestPickup;
    if (shortestBar !== undefined && (bar === undefined || compare(shortestBar, bar) < 0)) bar = shortestBar;
  }
  return pickup !== undefined && bar !== undefined && compare(pickup, bar) > 0;
}

const wholeBeats = (bar: Fraction, beat: Fraction): number => {
  const { n, d } = divide(bar, beat);
  return Math.floor(n / d);
};
