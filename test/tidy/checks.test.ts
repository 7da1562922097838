import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { chartChecks, sectionChecks } from "../../server/src/checks/list.js";
import { defaultSettings, noFiles, openDocument } from "../../server/src/document/document.js";
import { type Code, catalogue } from "../../server/src/problems/catalogue.js";
import type { Entry } from "../../server/src/problems/entry.js";
import { root } from "../support/root.js";

const codes = Object.keys(catalogue) as Code[];
const entryOf = (code: Code): Entry<never> => catalogue[code];

/** Codes that have no check of their own, and the file that reports them while the text is read. */
const reportedElsewhere: ReadonlyMap<Code, string> = new Map<Code, string>([
  ["unknown-word", "server/src/syntax/statement.ts"],
  ["unknown-chord", "server/src/syntax/chord-slot.ts"],
  ["unknown-tone", "server/src/syntax/stack-slot.ts"],
  ["run-together", "server/src/syntax/chord-slot.ts"],
  ["sign-order", "server/src/syntax/stack-slot.ts"],
]);

/** The names of the files in a folder, without their endings. */
const namesIn = (folder: string): string[] =>
  readdirSync(join(root, folder)).map((name) => name.replace(/(\.test)?\.ts$/, ""));

describe.each(codes)("the code %s", (code) => {
  const { message, summary, explanation, example, severity } = entryOf(code);

  test("stands in the catalogue under the name of its file", () => {
    expect(code).toMatch(/^[a-z]+(-[a-z]+)*$/);
    expect(existsSync(join(root, `server/src/problems/codes/${code}.ts`))).toBe(true);
    expect(["error", "warning", "info", "hint", "off"]).toContain(severity);
    expect(message).toBeTypeOf("function");
  });

  test("says in one sentence what it is about", () => {
    expect(summary).toMatch(/^[A-Z`][^.!?]*[.!?]$/);
    expect(summary.length).toBeLessThanOrEqual(90);
    expect(summary).not.toMatch(/ {2}|\n/);
  });

  test("has a page of several paragraphs in lines of at most 120 characters", () => {
    expect(explanation.trim().split(/\n\n/).length).toBeGreaterThanOrEqual(2);
    expect(explanation).toMatch(/^[A-Z`]/);
    expect(explanation).toMatch(/[^\n]\n$/);
    for (const line of explanation.split("\n")) expect(line.length, line).toBeLessThanOrEqual(120);
  });

  test("has an example that raises it once and nothing else", () => {
    const severities = severity === "off" ? { [code]: "warning" as const } : {};
    const { problems } = openDocument("example.plagal", example, noFiles, { ...defaultSettings, severities });
    const shown = problems.map((it) => `${it.code}: ${it.message}`);
    expect(
      problems.map((it) => it.code),
      shown.join("\n"),
    ).toEqual([code]);
  });

  test("has its own tests", () => {
    const path = join(root, `test/checks/${code}.test.ts`);
    expect(existsSync(path)).toBe(true);
    expect(readFileSync(path, "utf8")).toContain(`describe("${code}"`);
  });

  test("is found by a check in the file of its name, or where the text is read", () => {
    const elsewhere = reportedElsewhere.get(code);
    const checks = [...sectionChecks, ...chartChecks].filter((it) => it.code === code);
    expect(existsSync(join(root, `server/src/checks/${code}.ts`))).toBe(elsewhere === undefined);
    expect(checks.length > 0).toBe(elsewhere === undefined);
    if (elsewhere !== undefined)
      expect(readFileSync(join(root, elsewhere), "utf8")).toContain(`problem("${code}"`);
  });
});

describe("the checks", () => {
  test("stand in the list in the order of the catalogue", () => {
    for (const list of [sectionChecks, chartChecks]) {
      const places = list.map(({ code }) => codes.indexOf(code));
      expect(places).toEqual([...places].sort((a, b) => a - b));
    }
  });

  test("have a page for every file of words, and words for every test", () => {
    expect(namesIn("server/src/problems/codes").sort()).toEqual([...codes].sort());
    for (const name of namesIn("test/checks")) expect(codes, name).toContain(name);
  });

  test("are each listed: no file of the room exports one that never runs", () => {
    const listed = new Set([...sectionChecks, ...chartChecks].map(({ code }) => code as string));
    for (const name of namesIn("server/src/checks")) {
      const text = readFileSync(join(root, `server/src/checks/${name}.ts`), "utf8");
      if (/^export const \w+: (?:Section|Chart)Check</m.test(text)) expect(listed, name).toContain(name);
    }
  });
});
