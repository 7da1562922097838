import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { readClient } from "../../server/src/lsp/client.js";
import { defaultServerSettings, readSettings, sectionOf } from "../../server/src/lsp/settings.js";
import { root } from "../support/root.js";

describe("settings are read", () => {
  test("as they are meant", () => {
    expect(
      readSettings({
        reach: { left: 8, right: 10 },
        severities: { jump: "off", syntax: "hint" },
        inlayHints: { notes: true, letters: true, fingering: true },
        hover: { scales: false, picture: false },
        symbols: { max: 10 },
      }),
    ).toEqual({
      document: { reach: { left: 8, right: 10 }, severities: { jump: "off", syntax: "hint" } },
      hintNotes: true,
      hintLetters: true,
      hintFingering: true,
      hoverScales: false,
      hoverPicture: false,
      mostSymbols: 10,
    });
  });

  test("under dotted names too", () => {
    expect(readSettings({ "reach.left": 8, "inlayHints.notes": true })).toMatchObject({
      document: { reach: { left: 8, right: undefined } },
      hintNotes: true,
    });
  });

  test.each<[name: string, section: unknown]>([
    ["null", null],
    ["nothing", undefined],
    ["a number", 7],
    ["a list", [1]],
    ["nonsense", { reach: "x", severities: [], inlayHints: 1, hover: null, symbols: { max: -1 } }],
    ["values out of bounds", { reach: { left: 4, right: 16.5 }, symbols: { max: 0.5 } }],
    ["a severity that is none", { severities: { jump: "fatal" } }],
  ])("as the defaults from %s", (_, section) => {
    expect(readSettings(section)).toEqual(defaultServerSettings);
  });

  test("out of the section, where a client sends more than that", () => {
    expect(sectionOf({ plagal: { a: 1 }, other: 2 })).toEqual({ a: 1 });
    expect(sectionOf({ a: 1 })).toEqual({ a: 1 });
    expect(sectionOf(null)).toBe(null);
  });
});

test("the manifest has the same defaults", () => {
  const { contributes } = JSON.parse(readFileSync(join(root, "package.json"), "utf8"));
  const properties = contributes.configuration.properties as Record<string, { readonly default: unknown }>;
  const defaults = Object.fromEntries(
    Object.entries(properties).map(([name, it]) => [name.replace(/^plagal\./, ""), it.default]),
  );
  expect(readSettings(defaults)).toEqual(defaultServerSettings);
  expect(Object.keys(properties).length).toBeLessThanOrEqual(15);
});

describe("a client", () => {
  test.each<[name: string, params: unknown]>([
    ["nothing", undefined],
    ["null", null],
    ["a number", 3],
    ["capabilities that are none", { capabilities: null, workspaceFolders: null, initializationOptions: 7 }],
  ])("that sends %s can do nothing", (_, params) => {
    const client = readClient(params as never);
    expect(client.folders).toEqual([]);
    expect(client.pictures).toBe(undefined);
    expect(Object.values(client).filter((it) => it === true)).toEqual([]);
  });

  test.each<[formats: unknown, pictures: unknown, shown: string | undefined]>([
    [["markdown", "plaintext"], "dark", "dark"],
    [["markdown"], "high contrast light", "high contrast light"],
    [["plaintext", "markdown"], "dark", undefined],
    [undefined, "dark", undefined],
    [["markdown"], undefined, undefined],
    [["markdown"], true, undefined],
    [["markdown"], "sepia", undefined],
    [["markdown"], "toString", undefined],
  ])("that prefers %j and says pictures %j is shown pictures for %j", (contentFormat, pictures, shown) => {
    const capabilities = { textDocument: { hover: { contentFormat } } };
    expect(readClient({ capabilities, initializationOptions: { pictures } } as never).pictures).toBe(shown);
  });

  test("may name its folder in any of three ways", () => {
    const foldersOf = (params: object): readonly string[] => readClient(params as never).folders;
    expect(foldersOf({ workspaceFolders: [{ uri: "memfs:/a" }], rootUri: "memfs:/b" })).toEqual(["memfs:/a"]);
    expect(foldersOf({ rootUri: "file:///b", rootPath: "/c" })).toEqual(["file:///b"]);
    expect(foldersOf({ rootUri: null, rootPath: "/c d" })).toEqual(["file:///c%20d"]);
  });
});
