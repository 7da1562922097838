import type { Chart } from "../chart/model.js";
import type { Outline } from "../chart/outline.js";
import type { Tree } from "../syntax/tree.js";

/** What an edit is made from: a chart with its text. */
export interface ChartText {
  readonly tree: Tree;
  readonly outline: Outline;
  readonly chart: Chart;
}
