import { createRequire } from "node:module";
import { parseMidi, writeMidi } from "midi-file";
import { openDocument } from "../../server/src/document/document.js";
import { exporters } from "../../server/src/exports/exporters.js";
import type { Pages } from "../../server/src/exports/pages.js";
import { movedTo } from "../support/page-of.js";
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
  /** Milliseconds; a library beside ours has none. */
  readonly goal?: number;
}

/** The kinds of files that are timed, with the names of their rows. */
const kinds = [
  ["midi", "MIDI of 1,000 bars"],
  ["musicxml", "MusicXML of 1,000 bars"],
] as const;

/** Exporting a chart of 1,000 bars whose text has been read, a chart of its own each round. */
export function measureExports(): { readonly rows: readonly ExportRow[]; readonly sum: number } {
  const milliseconds: Record<string, number[]> = {};
  const peers: number[] = [];
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
      // It takes seconds, so it is asked only at first.
      if (kind === "midi" && round < 2) peers.push(peer(bytes));
    }
  }
  const rows = kinds.flatMap(([kind, name]): readonly ExportRow[] => [
    { name, milliseconds: milliseconds[name] ?? [], goal: 300 },
    ...(kind === "midi" ? [{ name: "  its events written by midi-file", milliseconds: peers }] : []),
  ]);
  const pages = measurePages();
  return { rows: [...rows, pages.row], sum: sum + pages.sum };
}

/** Milliseconds that a library takes for the last step alone: it is given the events that the file has. */
function peer(bytes: Uint8Array): number {
  const events = parseMidi(bytes);
  const start = performance.now();
  const written = writeMidi(events, { running: false });
  const took = performance.now() - start;
  if (written.length < bytes.length) throw new Error(`Only ${written.length} bytes of ${bytes.length}.`);
  return took;
}

/** The page of a chart of 64 bars, with all twelve keys, as the built bundle makes it. */
function measurePages(): { readonly row: ExportRow; readonly sum: number } {
  const { pages } = createRequire(import.meta.url)("../page.cjs") as { readonly pages: Pages };
  const milliseconds: number[] = [];
  let sum = 0;
  for (let round = 0; round < 9; round++) {
    const document = openDocument("bench.plagal", chartOfBars(700 + round, 64));
    const { chart } = document;
    const start = performance.now();
    const { bytes } = pages.page(chart, { moved: (tonic) => movedTo(document, tonic)?.chart });
    milliseconds.push(performance.now() - start);
    sum += bytes.length;
  }
  return { row: { name: "page of 64 bars in twelve keys", milliseconds, goal: 1000 }, sum };
}
