import { openDocument } from "../../server/src/document/document.js";
import { exporters } from "../../server/src/exports/exporters.js";
import { realisticChart } from "./realistic-chart.js";

/** A realistic chart cut to its first systems that have about so many bars in all, played as written. */
export function chartOfBars(seed: number, bars: number): string {
  const lines: string[] = [];
  let count = 0;
  for (const line of realisticChart(10_000, seed).split("\n")) {
    if (/^(?:form|play|use)\b/.test(line)) continue;
    if (count >= bars && line.trim() === "") break;
    if (/^chords\b/.test(line)) count += line.split("|").length - 2;
    lines.push(line);
  }
  return lines.join("\n");
}

export interface ExportRow {
  readonly name: string;
  readonly milliseconds: readonly number[];
  /** Milliseconds. */
  readonly goal: number;
}

/** The kinds of files that are timed, with the names of their rows. */
const kinds = [
  ["midi", "MIDI of 1,000 bars"],
  ["musicxml", "MusicXML of 1,000 bars"],
] as const;

/** Exporting a chart of 1,000 bars whose text has been read, a chart of its own each round. */
export function measureExports(): { readonly rows: readonly ExportRow[]; readonly sum: number } {
  const milliseconds: Record<string, number[]> = {};
  let sum = 0;
  for (let round = 0; round < 9; round++) {
    const { chart } = openDocument("bench.plagal", chartOfBars(600 + round, 1000));
    for (const [kind, name] of kinds) {
      const start = performance.now();
      const { bytes, bars } = exporters[kind](chart);
      milliseconds[name] ??= [];
      milliseconds[name].push(performance.now() - start);
      if (bars < 1000) throw new Error(`Only ${bars} bars are played.`);
      sum += bytes.length;
    }
  }
  const rows = kinds.map(([, name]) => ({ name, milliseconds: milliseconds[name] ?? [], goal: 300 }));
  return { rows, sum };
}
