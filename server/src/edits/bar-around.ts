import type { Section } from "../chart/model.js";
import type { BarText, RowName } from "../syntax/tree.js";
import type { Span } from "../text/span.js";

/** The bar of a row that a place stands in, with the start of its line. Counted from the section's start. */
export function barAround(
  section: Section,
  row: RowName,
  { start: offset }: Span,
): { readonly bar: BarText; readonly start: number } | undefined {
  for (const system of section.systems) {
    for (const { row: name, line, start } of system.rows) {
      if (name !== row) continue;
      const bar = line.bars.find(({ span }) => span.start + start <= offset && offset < span.end + start);
      if (bar !== undefined) return { bar, start };
    }
  }
  return undefined;
}
