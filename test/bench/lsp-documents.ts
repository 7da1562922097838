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

/**
 * A space inside a stack parts it in two. A space ends a word, so its problem shows at once; those of a half typed
 * word wait for a pause.
 */
export const plagal = (lines: number): BenchDocument => ({
  text: realisticChart(lines, 1),
  ext: "plagal",
  edit: { at: { find: "(?<=^right .*)\\+", from: 0.5, offset: 1 }, insert: " " },
  hover: [0.2, 0.5, 0.8].map((from) => ({ find: "(?<=^chords .*)[1-7]", from, offset: 1 })),
  completion: [0.2, 0.5, 0.8].map((from) => ({ find: "(?<=^chords .*)[1-7]", from, offset: 1 })),
});

/** As many lines of JSON as a settings file would have them: objects of five lines. */
export function json(lines: number): BenchDocument {
  const objects = Array.from({ length: Math.ceil((lines - 2) / 5) }, (_, i) =>
    [
      "  {",
      `    "name": "entry ${i}",`,
      `    "size": ${(i * 7919) % 1000},`,
      `    "tags": ["a${i % 7}", "b${i % 11}"]`,
      "  }",
    ].join("\n"),
  );
  return {
    text: `[\n${objects.join(",\n")}\n]\n`,
    ext: "json",
    // A letter in a number is an error.
    edit: { at: { find: '"size": [0-9]', from: 0.5, offset: 9 }, insert: "x" },
    hover: [0.2, 0.5, 0.8].map((from) => ({ find: '"name"', from, offset: 2 })),
    completion: [0.2, 0.5, 0.8].map((from) => ({ find: '"name"', from, offset: 0 })),
  };
}
