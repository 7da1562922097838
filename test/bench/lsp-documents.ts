import { openDocument } from "../../server/src/document/document.js";
import { format } from "../../server/src/edits/format.js";
import { parse } from "../../server/src/syntax/parse.js";
import { applyEdits, areApart, type Edit } from "../../server/src/text/edits.js";
import { realisticChart } from "./realistic-chart.js";

/** The first match of a pattern at or after that part of the lines, and how many characters behind its start. */
interface Place {
  readonly find: string;
  readonly from: number;
  readonly offset: number;
}

/** A document of so many lines with the places where the bench types and asks. */
interface BenchDocument {
  readonly text: string;
  readonly ext: string;
  /** What is typed there raises a problem, and goes away with it. */
  readonly edit: { readonly at: Place; readonly insert: string };
  readonly hover: readonly Place[];
  readonly completion: readonly Place[];
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

const chartOf = (lines: number): string => tidied(realisticChart(lines, 1));

/**
 * A space inside a stack parts it in two. A space ends a word, so its problem shows at once; those of a half typed
 * word wait for a pause.
 */
export const plagal = (lines: number): BenchDocument => ({
  text: chartOf(lines),
  ext: "plagal",
  edit: { at: { find: "(?<=^right .*)\\+", from: 0.5, offset: 1 }, insert: " " },
  hover: [0.2, 0.5, 0.8].map((from) => ({ find: "(?<=^chords .*)[1-7]", from, offset: 1 })),
  completion: [0.2, 0.5, 0.8].map((from) => ({ find: "(?<=^chords .*)[1-7]", from, offset: 1 })),
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
  return {
    text: `[\n${rows.join(",\n")}\n]\n`,
    ext: "json",
    // A letter between the strings is an error.
    edit: { at: { find: '"right",\\[', from: 0.5, offset: 8 }, insert: "x" },
    hover: [0.2, 0.5, 0.8].map((from) => ({ find: '"right"', from, offset: 2 })),
    completion: [0.2, 0.5, 0.8].map((from) => ({ find: '"right"', from, offset: 8 })),
  };
}
