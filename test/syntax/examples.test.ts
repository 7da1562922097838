import { readdirSync, readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { catalogue } from "../../server/src/problems/catalogue.js";
import { parse } from "../../server/src/syntax/parse.js";

const problemsOf = (text: string) => parse(text).lines.flatMap(({ problems }) => problems);
const codes = [
  "syntax",
  "unknown-word",
  "unknown-chord",
  "unknown-tone",
  "run-together",
  "sign-order",
  "spelling",
] as const;

test.each(codes)("the example of %s raises it once and nothing else of the syntax", (code) => {
  expect(problemsOf(catalogue[code].example).map((it) => it.code)).toEqual([code]);
});

const charts = new URL("../charts/", import.meta.url);
test.each(readdirSync(charts).filter((name) => name.endsWith(".plagal")))(
  "the sample chart %s is read without a problem",
  (name) => {
    expect(problemsOf(readFileSync(new URL(name, charts), "utf8"))).toEqual([]);
  },
);
