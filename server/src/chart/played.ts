import type { Chart, Moved, PlacedSection, Section } from "./model.js";
import { movedBy, moveFurther } from "./moves.js";

/** How the form plays each section, each way once; a section that it doesn't play is missing. */
export function waysPlayed(chart: Chart): ReadonlyMap<PlacedSection, readonly Moved[]> {
  const ways = new Map<PlacedSection, Moved[]>();
  const play = (placed: PlacedSection, moved: Moved, within: readonly PlacedSection[]): void => {
    const known = ways.get(placed) ?? [];
    ways.set(placed, known);
    if (within.includes(placed) || known.some(({ halfSteps }) => halfSteps === moved.halfSteps)) return;
    known.push(moved);
    const { section, plays } = placed;
    section.plays.forEach(({ item }, i) => {
      const target = plays[i];
      if (target === undefined) return;
      const inner = movedBy(item.move, target.section, section.context.home, section.context.displacement);
      play(target, moveFurther(inner, moved.halfSteps), [...within, placed]);
    });
  };
  for (const { section, moved } of chart.form) play(section, moved, []);
  return ways;
}

/** How a section is played that the form doesn't play. */
export const asPrinted = ({ start }: Section): readonly Moved[] => [{ key: start.key, halfSteps: 0 }];
