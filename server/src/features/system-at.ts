import type { PlacedSection, System } from "../chart/model.js";

/** The index of the last system of a section that starts at `inSection` or before it; -1 where none does. */
export function lastSystemBefore({ section: { systems } }: PlacedSection, inSection: number): number {
  let low = -1;
  let high = systems.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (startOf(systems[middle] as System) <= inSection) low = middle;
    else high = middle - 1;
  }
  return low;
}

const startOf = ({ rows }: System): number => rows[0]?.start ?? 0;

/** The system that has its row at this line, which starts at `inSection`; `undefined` where the line is no row of one. */
export function systemOfLine(placed: PlacedSection, inSection: number): System | undefined {
  const system = placed.section.systems[lastSystemBefore(placed, inSection)];
  return system?.rows.some(({ start }) => start === inSection) === true ? system : undefined;
}
