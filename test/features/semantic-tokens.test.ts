import { expect, test } from "vitest";
import {
  lexed,
  lineTokens,
  semanticTokens,
  tokenModifiers,
  tokenTypes,
} from "../../server/src/features/semantic-tokens.js";
import { parse } from "../../server/src/syntax/parse.js";
import { alone } from "../support/charts-of.js";
import { anyChart } from "../support/generate-chart.js";
import { property } from "../support/property.js";

const tokens = (text: string): readonly string[] => {
  const document = alone(text).at("chart.plagal");
  return semanticTokens(document).map(
    ({ span, type, modifiers }) =>
      `${document.text.slice(span.start, span.end)} ${[type, ...modifiers].join(".")}`,
  );
};

test("a chord's root, quality and bass are told apart", () => {
  expect(tokens("chords | 5:7sus/2 C#m7 /7 / |\n")).toEqual([
    "chords keyword",
    "5 function",
    "7sus type",
    "/ operator",
    "2 variable",
    "C# function",
    "m7 type",
    "/ operator",
    "7 variable",
    "/ operator",
  ]);
});

test("numbers that count from the chord and from the key are told apart, by their sign and by their row", () => {
  expect(tokens("right | 3+k5 E4 |\n")).toEqual([
    "right keyword",
    "3 number",
    "+ operator",
    "k operator",
    "5 variable",
    "E4 variable.readonly",
  ]);
  expect(tokens("lead | 3 c5 0 |\n")).toEqual([
    "lead keyword",
    "3 variable",
    "c operator",
    "5 number",
    "0 number",
  ]);
});

test("a grace number counts as its tone does", () => {
  expect(tokens("right | 2~_>k3 b3~3 |\n").filter((it) => /^b?[0-9]/.test(it))).toEqual([
    "2 variable",
    "3 variable",
    "b3 number",
    "3 number",
  ]);
});

test("sections are named and used, paths and words are text", () => {
  expect(tokens('use "a"\nform A "B C" x2 in Db\nsection "B C" ; end\nwords | la - |\n')).toEqual([
    "use keyword",
    '"a" string',
    "form keyword",
    "A namespace",
    '"B C" namespace',
    "x2 number",
    "in keyword",
    "Db variable.readonly",
    "section keyword",
    '"B C" namespace.declaration',
    "; end comment",
    "words keyword",
    "la string",
    "- string",
  ]);
});

test("what can't be read and bar lines are left to the patterns", () => {
  expect(tokens("chords || ? :|\nhello there\n")).toEqual(["chords keyword"]);
});

test("a range gives the tokens of its lines", () => {
  const document = alone("title A\ntitle B\ntitle C\n").at("chart.plagal");
  expect(semanticTokens(document, { start: 8, end: 16 }).map(({ span }) => span.start)).toEqual([8, 14]);
});

test("equal lines are looked at once, and types and modifiers are those of the list", () => {
  const { tree } = alone("chords | 1 |\n\nchords | 1 |\n").at("chart.plagal");
  const [first, , third] = tree.lines;
  expect(first && lineTokens(first)).toBe(third && lineTokens(third));
  expect(new Set([...tokenTypes, ...tokenModifiers]).size).toBe(tokenTypes.length + tokenModifiers.length);
});

property(
  "a row that is put together from its slots has the tokens that the lexer finds",
  anyChart(),
  150,
  (text) => {
    for (const line of parse(text).lines) expect(lineTokens(line), line.text).toEqual(lexed(line));
  },
);
