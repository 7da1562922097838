import { type Document, openDocument } from "../../server/src/document/document.js";
import { live } from "../../server/src/exports/live.js";
import type { LiveChart } from "../../server/src/exports/live-chart.js";
import { livePage } from "../../server/src/features/live-page.js";
import { chartOfBars, type ExportRow } from "./exports-bench.js";

const rounds = 9;

export function pageOf(document: Document, key?: string): LiveChart {
  const page = livePage(document, key, live);
  if ("refused" in page) throw new Error(page.refused);
  return page;
}

/** The text with one tone changed in a row of the right hand: another row each time. */
export function typedInto(text: string, k: number): string {
  const rows = [...text.matchAll(/^right .*[35]/gm)];
  const row = rows[(k * 7919) % rows.length] as RegExpExecArray;
  const at = row.index + row[0].length - 1;
  return [text.slice(0, at), text[at] === "3" ? "5" : "3", text.slice(at + 1)].join("");
}

/** What the server works out for a page beside the text: of a chart that was just read, and of one that is typed in. */
export function measureLive(): { readonly rows: readonly ExportRow[]; readonly sum: number } {
  let sum = 0;
  function timed(name: string, goal: number, prepare: (round: number) => () => LiveChart): ExportRow {
    const milliseconds = Array.from({ length: rounds }, (_, i) => {
      const work = prepare(i);
      const start = performance.now();
      const { bars } = work();
      const took = performance.now() - start;
      sum += bars.length;
      return took;
    });
    return { name, milliseconds, goal };
  }
  const readAnew = (seed: number, bars: number) => (round: number) => {
    const document = openDocument("bench.plagal", chartOfBars(seed + round, bars));
    sum += document.problems.length;
    return document;
  };
  const [short, long] = [readAnew(1000, 32), readAnew(1100, 500)];
  const typing = (seed: number, bars: number) => {
    let document = readAnew(seed, bars)(0);
    return (round: number) => () => {
      document = openDocument(
        "bench.plagal",
        typedInto(document.text, round),
        undefined,
        undefined,
        document,
      );
      return pageOf(document);
    };
  };
  return {
    rows: [
      timed("page beside the text, told of 32 bars", 16, (round) => {
        const document = short(round);
        return () => pageOf(document);
      }),
      timed("  of 500 bars", 100, (round) => {
        const document = long(round);
        return () => pageOf(document);
      }),
      timed("  of 32 bars in another key", 50, (round) => {
        const document = short(round + 20);
        return () => pageOf(document, "A");
      }),
      timed("  one character typed, 32 bars", 16, typing(1200, 32)),
      timed("  one character typed, 500 bars", 100, typing(1300, 500)),
    ],
    sum,
  };
}
