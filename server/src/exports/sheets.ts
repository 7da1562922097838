import type { Chart } from "../chart/model.js";
import { pdf } from "./pdf.js";
import { standPages } from "./stand-pages.js";
import { sectionNamed, standSection } from "./stand-section.js";
import type { SheetOptions } from "./stand-sheet.js";
import { svg } from "./svg.js";

/** What is made for the eye. They and all that they stand on are loaded when first asked for. */
export interface Sheets {
  /** The chart for the music stand. The same chart gives the same bytes. */
  readonly pdf: (chart: Chart, options?: SheetOptions) => Uint8Array;
  /** One section, the first unless its name is said; `undefined` where the chart has none of that name. */
  readonly svg: (chart: Chart, section?: string, options?: SheetOptions) => string | undefined;
}

export const sheets: Sheets = {
  pdf: (chart, options) => pdf(standPages(chart, options), chart.header.title ?? ""),
  svg(chart, name, options) {
    const section = sectionNamed(chart, name);
    return section && svg(standSection(section, chart, options));
  },
};
