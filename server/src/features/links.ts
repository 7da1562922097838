import type { Document } from "../document/document.js";
import type { Charts, Place } from "./charts.js";

/** A path that opens another chart. */
export interface Link {
  /** The path without its quotation marks. */
  readonly span: Place["span"];
  /** The chart that it opens. */
  readonly path: string;
}

/** The paths of `use` lines whose charts are found. */
export function links(document: Document, charts: Charts): readonly Link[] {
  return document.chart.uses.flatMap(({ path: written, span, found }) => {
    const path = found === "chart" ? charts.find(document.path, written) : undefined;
    return path === undefined ? [] : [{ span, path }];
  });
}
