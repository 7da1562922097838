import fc from "fast-check";
import { expect } from "vitest";
import { format } from "../../server/src/edits/format.js";
import { parse } from "../../server/src/syntax/parse.js";
import type { Statement } from "../../server/src/syntax/tree.js";
import { WordsBar } from "../../server/src/syntax/words-bar.js";
import { applyEdits, areApart } from "../../server/src/text/edits.js";
import { property } from "../support/property.js";

const formatted = (text: string): string => applyEdits(text, format(parse(text)));
const withoutSpaces = (text: string): string => text.replace(/[ \t]/g, "");

const space = fc.constantFrom(" ", "  ", "   ", "\t", " \t ");
const maybeSpace = fc.oneof(fc.constant(""), space);
const chord = fc.constantFrom(
  "1",
  "4maj7",
  "2:9",
  "5:7sus",
  "/",
  "//",
  "%",
  "NC",
  "r",
  "1:7(#9,b13)",
  "C#m7/E",
);
const tone = fc.constantFrom("1", "b3+5", "~3+5+1", "!5", "-", "=", "_1+4", "b3~3", "E♭4", "k5", ">1", "r");
const syllable = fc.constantFrom("Har-bour", "light", "_", "-", "é", "😀", "so", "(ah)");

/** Slots with random spaces between; a group now and then. */
const slots = (leaf: fc.Arbitrary<string>, groups: boolean): fc.Arbitrary<string> => {
  const slot = groups
    ? fc.oneof(
        { weight: 5, arbitrary: leaf },
        {
          weight: 1,
          arbitrary: fc
            .tuple(fc.constantFrom("(", ">(", "( "), leaf, space, leaf, fc.constantFrom(")", " )"))
            .map((parts) => parts.join("")),
        },
      )
    : leaf;
  return fc
    .array(fc.tuple(slot, space), { maxLength: 4 })
    .map((list) => list.map(([text, gap], i) => (i < list.length - 1 ? text + gap : text)).join(""));
};

const row = (name: string): fc.Arbitrary<string> => {
  const leaf = name === "chords" ? chord : name === "words" || name === "cue" ? syllable : tone;
  const bar = fc.tuple(space, slots(leaf, name !== "words" && name !== "cue"), maybeSpace);
  const barLine = fc.constantFrom("|", "|", "|", "||", "|:", ":|", ":|x3", ":| x2");
  return fc
    .tuple(
      maybeSpace,
      space,
      fc.array(fc.tuple(bar, barLine), { minLength: 1, maxLength: 5 }),
      fc.constantFrom("", " ", " ; a  word", "  ; (", "\t"),
    )
    .map(
      ([before, after, bars, end]) =>
        `${before}${name}${after}|${bars.map(([[a, b, c], line]) => `${a}${b}${c} ${line}`).join("")}${end}`,
    );
};

const otherLine = fc.constantFrom(
  "",
  "  ",
  "; a comment  ",
  "key   F major  (original Ab)",
  "  time 3/4",
  "title   Slow   Water ;  a sketch",
  'form  A  "B  C"   x2',
  "section   B  C",
  "vamp  ",
  "lands\t5",
  "reach left  8 right   9",
  "rihgt |1|",
);

const system = fc
  .subarray(["chords", "lead", "right", "left", "bass", "words", "cue"], { minLength: 1 })
  .chain((names) => fc.tuple(...names.map(row)));

const chart = fc
  .array(
    fc.oneof(
      system,
      otherLine.map((line) => [line]),
    ),
    { maxLength: 8 },
  )
  .chain((blocks) =>
    fc.tuple(
      fc.constant(blocks.flat()),
      fc.array(fc.constantFrom("\n", "\r\n", "\n\n"), { minLength: 60, maxLength: 60 }),
    ),
  )
  .map(([lines, ends]) => lines.map((line, i) => line + ends[i % ends.length]).join(""));

/** What a statement says, without its places. Names keep the spaces inside them; of words it is their slots. */
function meaning(statement: Statement): unknown {
  return JSON.parse(
    JSON.stringify(statement, (name, value) => {
      if (/span$/i.test(name) || name === "signs") return value !== undefined;
      if (!(value instanceof WordsBar)) return value;
      const { span, open, close, ending, slots } = value;
      return { span, open, close, ending, slots };
    }),
  );
}

const statements = (text: string): unknown[] => parse(text).lines.map(({ statement }) => meaning(statement));

property("formatting a badly spaced chart once is enough", chart, 500, (text) => {
  const once = formatted(text);
  expect(formatted(once)).toBe(once);
  expect(format(parse(once))).toEqual([]);
});

property("only spaces change, and the tree says the same", chart, 500, (text) => {
  const after = formatted(text);
  expect(withoutSpaces(after)).toBe(withoutSpaces(text));
  expect(statements(after)).toEqual(statements(text));
});

property("edits are runs of spaces, apart from each other, inside one line", chart, 100, (text) => {
  const edits = format(parse(text));
  expect(areApart(edits)).toBe(true);
  for (const { span, text: now } of edits) {
    expect(text.slice(span.start, span.end)).toMatch(/^[ \t]*$/);
    expect(now).toMatch(/^ *$/);
  }
});

const bits = fc.constantFrom(
  ..."|:; \t\n\r()<>+~!_-=%rx12.b♭#C\"'é😀\u0000",
  "chords ",
  "right ",
  "cue ",
  "| ",
  "from ",
);
const anyText = fc.oneof(
  fc.string({ unit: "binary" }),
  fc.array(bits).map((list) => list.join("")),
);

property("any text keeps all but its spaces and is done after one round", anyText, 1000, (text) => {
  const once = formatted(text);
  expect(withoutSpaces(once)).toBe(withoutSpaces(text));
  expect(formatted(once)).toBe(once);
});
