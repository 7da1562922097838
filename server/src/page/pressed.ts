import type { LiveChart } from "../exports/live-chart.js";
import { placesOf } from "./cursor.js";

/** Where in the text that starts which a pressed element shows; `undefined` where it is in another file. */
export function offsetOf(pressed: Element, { starts, bars }: LiveChart): number | undefined {
  const bar = pressed.closest(".bar");
  const system = pressed.closest(".system");
  const section = system?.parentElement?.getAttribute("aria-labelledby")?.slice(1);
  if (!bar || !system || section === undefined) return undefined;
  const number = bar.id.replace(/^b\d+-/, "");
  const places = placesOf(bars, Number(section), Number.parseInt(number, 10), number.endsWith("p"));
  const cells = starts[Number(section)]?.[placeIn(system, ".system")]?.[placeIn(bar, ".bar")] ?? [];
  const cell = pressed.closest(".grid > span");
  if (cell !== null) {
    const own = rowOf(cell);
    const row = [...(cell.parentElement?.children ?? [])].filter((it) => rowOf(it) === own);
    const start = cells[own]?.[row.indexOf(cell)];
    if (start !== undefined && start >= 0) return start;
    // A cue and silence have no place of their own, nor has a row that is empty there.
    const place = places.find(({ row }) => cell.classList.contains(row));
    if (place !== undefined) return place.from;
  }
  return cells.flat().find((start) => start >= 0) ?? places[0]?.from;
}

/** Which one it is among its kind. */
const placeIn = (it: Element, kind: string): number =>
  [...(it.parentElement?.children ?? [])].filter((other) => other.matches(kind)).indexOf(it);

/** The row of a cell, 0 up: its class says it, from 1. */
const rowOf = (cell: Element): number => Number(/(?:^| )r(\d+)(?: |$)/.exec(cell.className)?.[1] ?? 0) - 1;
