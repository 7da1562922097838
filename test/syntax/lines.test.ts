import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { dumpLine } from "../support/dump-line.js";

/**
 * Each case is a line after `> `, and under it what is read: the statement put together from the tree, then each
 * problem at its place with its message and, after the arrows, the line as each fix leaves it.
 */
function casesIn(name: string): { line: string; expected: string }[] {
  const text = readFileSync(new URL(`cases/${name}.txt`, import.meta.url), "utf8");
  const cases: { line: string; expected: string[] }[] = [];
  for (const row of text.split("\n")) {
    if (row.startsWith("> ")) cases.push({ line: row.slice(2), expected: [] });
    else if (row !== "") cases.at(-1)?.expected.push(row);
  }
  return cases.map(({ line, expected }) => ({ line, expected: expected.join("\n") }));
}

describe.each(["headers", "rows"])("of the cases of %s", (name) => {
  const cases = casesIn(name);

  test("there are many", () => {
    expect(cases.length).toBeGreaterThan(60);
  });

  test.each(cases)("“$line” is read as it should be", ({ line, expected }) => {
    const read = dumpLine(line)
      .split("\n")
      .map((row) => `  ${row}`.trimEnd());
    expect(read.join("\n")).toBe(expected);
  });
});
