import type { PlacedSection } from "../chart/model.js";
import { shift } from "../text/span.js";
import type { ChartCheck } from "./check.js";
import { sectionWords } from "./section-words.js";
import { sectionsUnsaid, unknownNames } from "./unknown-names.js";

/** A section that is neither in the written form nor played by another. */
export const unusedSection: ChartCheck<"unused-section"> = {
  code: "unused-section",
  run(chart, report) {
    if (chart.formWords.length === 0) return;
    const words = sectionWords(chart);
    const played = new Set<PlacedSection>();
    /** A name with a slip in it may be this section's. */
    const meant = new Set(unknownNames(chart).flatMap((it) => it.meant));
    for (const { target, within } of words) {
      if (target !== undefined && target !== within) played.add(target);
    }
    const { sections, contents } = chart.outline;
    for (let i = 0; i < sections.length; i++) {
      const placed = chart.sections[i] as PlacedSection;
      if (played.has(placed)) continue;
      const { source, name, systems } = placed.section;
      // A second section of a name is told by that; one that holds nothing has nothing to be heard.
      if (meant.has(name) || contents.names.get(name) !== i || systems.length === 0) continue;
      // Its rows may be those of a section whose line can't be read.
      if (name === "" && sectionsUnsaid(chart).length > 0) continue;
      const first = systems[0]?.rows[0];
      const span = source.nameSpan ?? (first && shift(first.line.nameSpan, first.start));
      if (span !== undefined) report(shift(span, placed.offset), { name });
    }
  },
};
