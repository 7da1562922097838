import fc from "fast-check";
import { expect } from "vitest";
import { type Document, openDocument } from "../../server/src/document/document.js";
import { anyChart, hostileText, usedFiles } from "../support/generate-chart.js";
import { anyLine } from "../support/lines-arbitrary.js";
import { property } from "../support/property.js";
import { whereDifferent } from "../support/same-value.js";

/** One edit, with its place and length as parts of a thousand. */
interface Edit {
  readonly kind: "type" | "delete" | "line" | "double" | "drop" | "section" | "undo";
  readonly at: number;
  readonly length: number;
  readonly text: string;
}

const pieces = fc.constantFrom(
  ..."1 3 b 7 | - = % ( ) > < _ ~ ! / r NC |: :| 1. 2. ; # C F4 + k c 0 x3".split(" "),
  " ",
  "\n",
  "\r\n",
  "\r",
  "section Verse\n",
  "key F\n",
  "time 3/4\n",
  "\n\n",
  "form Tag Verse\n",
  "play Tag\n",
);

const edit: fc.Arbitrary<Edit> = fc.oneof(
  fc.record({
    kind: fc.constantFrom("type" as const, "type" as const, "delete" as const, "undo" as const),
    at: fc.nat({ max: 1000 }),
    length: fc.nat({ max: 8 }),
    text: pieces,
  }),
  fc.record({
    kind: fc.constantFrom("line" as const, "double" as const, "drop" as const, "section" as const),
    at: fc.nat({ max: 1000 }),
    length: fc.nat({ max: 4 }),
    text: anyLine,
  }),
);

function edited(text: string, before: string, { kind, at, length, text: piece }: Edit): string {
  const offset = Math.floor((text.length * at) / 1000);
  const lines = text.split("\n");
  const line = Math.floor((lines.length * at) / 1001);
  switch (kind) {
    case "type":
      return text.slice(0, offset) + piece + text.slice(offset);
    case "delete":
      return text.slice(0, offset) + text.slice(offset + length);
    case "undo":
      return before;
    case "line":
      return [...lines.slice(0, line), piece, ...lines.slice(line + 1)].join("\n");
    case "double":
      return [...lines.slice(0, line + length), ...lines.slice(line)].join("\n");
    case "drop":
      return [...lines.slice(0, line), ...lines.slice(line + 1 + length)].join("\n");
    case "section":
      return [...lines.slice(0, line), "section Tag", piece, ...lines.slice(line)].join("\n");
  }
}

/** Doubled lines may not make the text longer than this. */
const most = 6000;

/** What a document answers, asked for in the order of a reader. */
const answers = ({ text, tree, outline, chart, problems }: Document) => ({
  text,
  tree,
  outline,
  chart,
  problems,
});

property(
  "after any 200 edits the snapshot that was carried along equals a fresh one",
  fc.tuple(fc.oneof(anyChart(), hostileText), fc.array(edit, { minLength: 200, maxLength: 200 })),
  3,
  ([start, edits]) => {
    let document = openDocument("chart.plagal", start, usedFiles);
    let before = start;
    edits.forEach((it, i) => {
      const text = edited(document.text, before, it).slice(0, most);
      before = document.text;
      document = openDocument("chart.plagal", text, usedFiles, undefined, document);
      // Some versions are passed over unasked, as while typing fast.
      if (i % 3 > 0 && i < edits.length - 1) return;
      const fresh = openDocument("chart.plagal", text, usedFiles);
      expect(whereDifferent(answers(document), answers(fresh))).toBe(undefined);
    });
  },
);
