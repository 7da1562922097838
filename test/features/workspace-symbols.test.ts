import { expect, test } from "vitest";
import { workspaceSymbols } from "../../server/src/features/workspace-symbols.js";
import { chartsOf } from "../support/charts-of.js";

const charts = chartsOf({
  "a.plagal": "title Harbour Evening\nsection Verse\nchords | 1 |\nsection Last Verse\nchords | 1 |\n",
  "b.plagal": "section Vamp\nchords | 1 |\nsection\nchords | 1 |\n",
});
const found = (query: string, max = 100): readonly string[] =>
  workspaceSymbols(charts, query, max).map(({ path, span, name, kind, within }) => {
    const text = charts.at(path).text.slice(span.start, span.end);
    expect(text).toBe(name);
    return `${path} ${kind} ${name}${within === undefined ? "" : ` (${within})`}`;
  });

test("without a query all titles and named sections are found", () => {
  expect(found("")).toEqual([
    "a.plagal title Harbour Evening",
    "a.plagal section Verse (Harbour Evening)",
    "a.plagal section Last Verse (Harbour Evening)",
    "b.plagal section Vamp",
  ]);
});

test("letters in order find a name whatever their case, names that start with them first", () => {
  expect(found("VERSE")).toEqual([
    "a.plagal section Verse (Harbour Evening)",
    "a.plagal section Last Verse (Harbour Evening)",
  ]);
  expect(found("lv")).toEqual(["a.plagal section Last Verse (Harbour Evening)"]);
  expect(found("hb ev")).toEqual(["a.plagal title Harbour Evening"]);
  expect(found("evl")).toEqual([]);
});

test("no more than the limit are given", () => {
  expect(found("", 2)).toHaveLength(2);
  expect(found("", -1)).toEqual([]);
});
