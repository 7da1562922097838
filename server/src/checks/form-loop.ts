import type { Chart, PlacedSection, Play } from "../chart/model.js";
import { shift } from "../text/span.js";
import type { ChartCheck } from "./check.js";

/** A section that plays itself, at once or through others. Told at the chart's own `play` line that closes the circle. */
export const formLoop: ChartCheck<"form-loop"> = {
  code: "form-loop",
  run(chart, report) {
    const done = new Set<PlacedSection>();
    const visit = (placed: PlacedSection, within: readonly PlacedSection[]): void => {
      const inside = [...within, placed];
      done.add(placed);
      for (const target of placed.plays) {
        if (target === undefined) continue;
        const at = inside.indexOf(target);
        if (at < 0) {
          if (!done.has(target)) visit(target, inside);
          continue;
        }
        const circle = [...inside.slice(at), target];
        // A circle that runs through other charts alone is theirs to tell.
        const owner = inside.slice(at).findLast(({ path }) => path === undefined);
        if (owner === undefined) continue;
        const next = circle[circle.indexOf(owner) + 1] as PlacedSection;
        const play = owner.section.plays[owner.plays.indexOf(next)] as Play;
        const names = circle.map(({ section }) => section.name);
        report(shift(play.item.nameSpan, owner.offset + play.lineStart), { names });
      }
    };
    for (const placed of playing(chart)) if (!done.has(placed)) visit(placed, []);
  },
};

const playing = ({ outline, sections }: Chart): readonly PlacedSection[] => [
  ...outline.contents.holding.play.map((i) => sections[i] as PlacedSection),
  ...sections.slice(outline.sections.length),
];
