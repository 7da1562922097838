import { readdirSync, readFileSync } from "node:fs";
import fc from "fast-check";
import { beforeAll, expect, test } from "vitest";
import { generatedFiles } from "../../grammar/generate.js";
import { scopeOf } from "../../grammar/textmate.js";
import { parse } from "../../server/src/syntax/parse.js";
import { anyLine } from "../support/lines-arbitrary.js";
import { assertProperty } from "../support/property.js";
import { editorTokenizer, type ScopedStretch } from "../support/textmate.js";

let editor: (line: string) => ScopedStretch[];
beforeAll(async () => {
  editor = await editorTokenizer(generatedFiles().get("grammar/plagal.tmLanguage.json") as string);
});

const shown = (
  line: string,
  stretches: readonly { start: number; end: number; scopes: readonly string[] }[],
): string =>
  stretches
    .map(({ start, end, scopes }) => `${JSON.stringify(line.slice(start, end))} ${scopes.join(" ") || "-"}`)
    .join("\n");

/** The line as each lexer cuts it, one token a line. */
function expectAgreement(line: string): void {
  const parsed = parse(line).lines;
  expect(parsed).toHaveLength(1);
  const server = (parsed[0]?.tokens ?? []).map(({ kind, span }) => {
    const scope = scopeOf(kind);
    return { ...span, scopes: scope === undefined ? [] : [scope] };
  });
  expect(`${JSON.stringify(line)}\n${shown(line, server)}`).toBe(
    `${JSON.stringify(line)}\n${shown(line, editor(line))}`,
  );
}

const charts = new URL("../charts/", import.meta.url);
const chartNames = readdirSync(charts).filter((name) => name.endsWith(".plagal"));

test.each(chartNames)("the editor colours %s by the same tokens as the server reads", (name) => {
  const text = readFileSync(new URL(name, charts), "utf8");
  for (const line of text.split("\n")) expectAgreement(line);
});

test("the editor colours generated lines by the same tokens as the server reads", () => {
  assertProperty(fc.property(anyLine, expectAgreement), 2000);
});
