import type { LiveChart } from "../exports/live-chart.js";
import { placesOf } from "./cursor.js";

/** Where in the text that starts which a pressed element shows; `undefined` where it is in another file. */
export function offsetOf(pressed: Element, { starts, bars }: LiveChart): number | undefined {
  const bar = pressed.closest(".bar");
  const system = pressed.closest(".system");
  const section = system?.parentElement?.getAttribute("aria-labelledby")?.slice(1);
  if (!bar || !system || section === undefined) return undefined;
  const cells = starts[Number(section)]?.[placeIn(system, ".system")]?.[placeIn(bar, ".bar")] ?? [];
  const cell = pressed.closest(".grid > span");
  if (cell !== null) {
    const own = rowOf(cell);
    const row = [...(cell.parentElement?.children ?? [])].filter((it) => rowOf(it) === own);
    const start = cells[own]?.[row.indexOf(cell)];
    if (start !== undefined) return start < 0 ? undefined : start;
  }
  const first = cells.flat().find((start) => start >= 0);
  if (first !== undefined) return first;
  const number = bar.id.replace(/^b\d+-/, "");
  return placesOf(bars, Number(section), Number.parseInt(number, 10), number.endsWith("p"))[0]?.from;
}

/** Which one it is among its kind. */
const placeIn = (it: Element, kind: string): number =>
  [...(it.parentElement?.children ?? [])].filter((other) => other.matches(kind)).indexOf(it);

/** The row of a cell, 0 up: its class says it, from 1. */
const rowOf = (cell: Element): number => Number(/(?:^| )r(\d+)(?: |$)/.exec(cell.className)?.[1] ?? 0) - 1;
