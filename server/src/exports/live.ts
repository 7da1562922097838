import type { Chart } from "../chart/model.js";
import { type LiveChart, liveChart } from "./live-chart.js";

/** What the page beside the text is made from: a bundle of its own, loaded when a page is first opened. */
export interface Live {
  readonly chart: (shown: Chart, written: Chart, staff: boolean) => LiveChart;
}

export const live: Live = { chart: liveChart };
