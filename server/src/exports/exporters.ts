import type { Chart } from "../chart/model.js";
import { encodeUtf8 } from "../text/utf8.js";
import { midiFile } from "./midi.js";
import { musicXml } from "./musicxml.js";
import { type PerformanceOptions, perform } from "./performance.js";

/** A file made of a chart. The same chart gives the same bytes. */
export interface ExportedFile {
  readonly bytes: Uint8Array;
  /** How many bars it plays. */
  readonly bars: number;
  /** The form is longer than anybody plays, and the file ends after `bars`. */
  readonly cut: boolean;
}

/** Every kind of file that a chart is exported to. */
export interface Exporters {
  readonly midi: (chart: Chart, options?: PerformanceOptions) => ExportedFile;
  readonly musicxml: (chart: Chart, options?: PerformanceOptions) => ExportedFile;
}

export type ExportKind = keyof Exporters;

/** The exporters: they and all that they stand on are loaded when first asked for. */
export const exporters: Exporters = {
  midi(chart, options) {
    const performance = perform(chart, options);
    return { bytes: midiFile(performance), bars: performance.bars.length, cut: performance.cut };
  },
  musicxml(chart, options) {
    const { text, bars, cut } = musicXml(chart, options);
    return { bytes: encodeUtf8(text), bars, cut };
  },
};
