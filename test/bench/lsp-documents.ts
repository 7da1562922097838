import { openDocument } from "../../server/src/document/document.js";
import { format } from "../../server/src/edits/format.js";
import { parse } from "../../server/src/syntax/parse.js";
import { applyEdits, areApart, type Edit } from "../../server/src/text/edits.js";
import { realisticChart } from "./realistic-chart.js";

/** A document of so many lines, and where it is typed in. */
export interface BenchDocument {
  readonly text: string;
  readonly ext: string;
  /** A pattern: it is typed at its first match from the middle of the lines on, so many characters behind its start. */
  readonly find: string;
  readonly offset: number;
  /** Raises a problem, which goes away with it. */
  readonly insert: string;
}

/** A chart as a player would leave it: the leaps of a made up melody mended, laid out, with a slip here and there. */
function tidied(chart: string): string {
  let text = chart;
  for (let round = 0; round < 3; round++) {
    const edits: Edit[] = [];
    for (const { code, fixes } of openDocument("bench", text).problems) {
      const added = code === "jump" ? (fixes[0]?.edits ?? []) : [];
      const last = edits.slice(-4);
      if (
        added.length > 0 &&
        areApart([...last, ...added]) &&
        (added[0]?.span.start ?? 0) >= (edits.at(-1)?.span.end ?? 0)
      )
        edits.push(...added);
    }
    text = applyEdits(text, edits);
  }
  return applyEdits(text, format(parse(text)));
}

const charts = new Map<number, string>();

function chartOf(lines: number): string {
  const chart = charts.get(lines) ?? tidied(realisticChart(lines, 1));
  charts.set(lines, chart);
  return chart;
}

/**
 * A space inside a stack parts it in two. A space ends a word, so its problem shows at once; those of a half typed
 * word wait for a pause.
 */
export const plagal = (lines: number): BenchDocument => ({
  text: chartOf(lines),
  ext: "plagal",
  find: "(?<=^right .*)\\+",
  offset: 1,
  insert: " ",
});

/** The same rows as JSON would hold them, line by line: bars, slots and tones as lists. */
export function json(lines: number): BenchDocument {
  const rows = chartOf(lines)
    .trimEnd()
    .split("\n")
    .slice(2)
    .map((line) => {
      const [name = "", ...bars] = line.split("|").map((it) => it.trim());
      const slots = bars.slice(0, -1).map((bar) => bar.split(/ +/).map((slot) => slot.split("+")));
      return `  ${JSON.stringify([name, ...slots])}`;
    });
  // A letter between the strings is an error.
  return { text: `[\n${rows.join(",\n")}\n]\n`, ext: "json", find: '"right",\\[', offset: 8, insert: "x" };
}
