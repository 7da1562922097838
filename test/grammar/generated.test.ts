import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { generatedFiles } from "../../grammar/generate.js";
import { pieces, tokens } from "../../grammar/tokens.js";

test.each([...generatedFiles()])("%s is what the table of tokens makes", (path, text) => {
  expect(readFileSync(new URL(`../../${path}`, import.meta.url), "utf8")).toBe(text);
});

test.each(Object.entries(tokens))(
  "the example of the token %s fits its pattern, from end to end",
  (name, { pattern, example }) => {
    // Where the pattern looks ahead for a tone, one follows.
    const text = pattern.includes("(?=") && name !== "quality" ? `${example}5` : example;
    expect(new RegExp(`^(?:${pattern})`).exec(text)?.[0]).toBe(example);
  },
);

test("every token has a meaning, and a scope of its own unless it is white space", () => {
  const scopes = Object.values(tokens).map(({ scope }) => scope);
  expect(scopes.filter((scope) => scope === "")).toHaveLength(2);
  const coloured = scopes.filter((scope) => scope !== "");
  expect(new Set(coloured).size).toBe(coloured.length);
  expect(Object.values(tokens).every(({ meaning }) => meaning.length > 3)).toBe(true);
});

/** What JavaScript and the editor's engine read differently, or what needs a flag. */
const forbidden = [/\\[bBwWdDsShHpP]/, /\(\?<[=!]/, /\(\?<[a-zA-Z]/, /\\[AzZGK]/, /\(\?[a-z-]+[:)]/];
const withoutClasses = (pattern: string): string =>
  pattern.replace(/\\./g, "_").replace(/\[\^?(?:\\.|[^\]])*\]/g, "_");
const patterns: [string, string][] = [
  ...Object.entries(tokens).map(([name, { pattern }]): [string, string] => [name, pattern]),
  ...Object.entries(pieces).map(([name, piece]): [string, string] => [
    `the piece ${name}`,
    JSON.stringify(piece),
  ]),
];

test.each(patterns)("the pattern of %s uses character classes and look-ahead only", (name, pattern) => {
  for (const form of forbidden) expect(form.exec(pattern)?.[0]).toBeUndefined();
  if (name.startsWith("the piece")) return;
  expect(withoutClasses(pattern)).not.toMatch(/[.^$]/);
  expect(withoutClasses(pattern)).not.toMatch(/\((?!\?[:!=])/);
});
