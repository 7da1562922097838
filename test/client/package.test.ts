import { execFileSync } from "node:child_process";
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import type { BundleName } from "../../server/src/exports/export-file.js";
import { catalogue } from "../../server/src/problems/catalogue.js";
import { root } from "../support/root.js";
import { filesOfZip, unpack } from "../support/zip.js";

const folder = mkdtempSync(join(tmpdir(), "plagal-vsix-"));
const vsix = join(folder, "plagal.vsix");
const inside = join(folder, "inside");
let files: readonly string[] = [];

beforeAll(() => {
  execFileSync(process.execPath, ["server/build.mjs", "vsix", vsix], { cwd: root, stdio: "pipe" });
  unpack(vsix, inside);
  files = [...filesOfZip(vsix).keys()].sort();
});
afterAll(() => rmSync(folder, { recursive: true }));

const ours = [
  "LICENSE.txt",
  "changelog.md",
  "client/REFERENCE.md",
  "client/media/file-dark.svg",
  "client/media/file-light.svg",
  "client/media/icon.png",
  "client/media/walkthrough-mend.svg",
  "client/media/walkthrough-move.svg",
  "client/media/walkthrough-open.svg",
  "client/media/walkthrough-read.svg",
  "client/media/walkthrough-write.svg",
  "dist/NOTICE.txt",
  "dist/client-web.js",
  "dist/client.cjs",
  "dist/exports.cjs",
  "dist/live-page.js",
  "dist/live.cjs",
  "dist/page.cjs",
  "dist/picture.cjs",
  "dist/plagal.cjs",
  "dist/server-web.js",
  "dist/server.cjs",
  "dist/sheets.cjs",
  "dist/verovio-toolkit-wasm.js",
  "grammar/LANGUAGE.md",
  "grammar/language-configuration.json",
  "grammar/plagal.tmLanguage.json",
  "grammar/snippets.json",
  "package.json",
  "readme.md",
];

describe("the extension's file", () => {
  test("holds what is needed, the page of every check, and nothing else", () => {
    const pages = Object.keys(catalogue).map((code) => `dist/checks/${code}.md`);
    const notes = readdirSync(join(root, "server/piano")).filter((name) => name.endsWith(".mp3"));
    expect(notes).toHaveLength(13);
    const sound = notes.map((name) => `dist/piano/${name}`);
    const wanted = [...ours, ...pages, ...sound].map((path) => `extension/${path}`);
    expect(files).toEqual(["[Content_Types].xml", "extension.vsixmanifest", ...wanted].sort());
  });

  test("holds every file that its manifest names", () => {
    const manifest = readFileSync(join(inside, "extension/package.json"), "utf8");
    for (const [, path] of manifest.matchAll(/"(?:\.\/)?((?:client|grammar|dist)\/[^"*]+\.[a-z]+)"/gi)) {
      // The command's own place in the package for the terminal is the same file.
      expect(existsSync(join(inside, "extension", path as string)), path).toBe(true);
    }
  });

  test("holds the licence of each package whose code is in it", () => {
    const notice = readFileSync(join(inside, "extension/dist/NOTICE.txt"), "utf8");
    for (const name of [
      "chevrotain",
      "vscode-languageclient",
      "vscode-languageserver",
      "vscode-jsonrpc",
      "pdf-lib",
    ]) {
      expect(notice).toMatch(new RegExp(`^${name} [0-9.]+ \\([A-Za-z0-9.-]+\\)$`, "m"));
    }
    expect(notice).toContain("Permission is hereby granted, free of charge");
    expect(notice).toContain("Apache License");
  });

  test("holds the sound of the page as it was made, with who recorded it, and is below 6 MB", () => {
    for (const path of files.filter((it) => it.endsWith(".mp3"))) {
      const made = readFileSync(join(root, path.replace("extension/dist/", "server/")));
      expect(readFileSync(join(inside, path)).equals(made), path).toBe(true);
    }
    const notice = readFileSync(join(inside, "extension/dist/NOTICE.txt"), "utf8");
    expect(notice).toMatch(/^Piano: Salamander Grand Piano V3 by Alexander Holm, licensed under CC BY 3\.0/m);
    expect(statSync(vsix).size).toBeLessThan(6_000_000);
  });

  test("holds the engraver of the staff as its makers made it, with its licence", () => {
    const { version } = JSON.parse(readFileSync(join(root, "node_modules/verovio/package.json"), "utf8"));
    const made = readFileSync(join(root, "node_modules/verovio/dist/verovio-toolkit-wasm.js"));
    const held = readFileSync(join(inside, "extension/dist/verovio-toolkit-wasm.js"));
    expect(held.equals(made)).toBe(true);
    const notice = readFileSync(join(inside, "extension/dist/NOTICE.txt"), "utf8");
    expect(notice).toContain(`rism-digital/verovio, version ${version}`);
    expect(notice).toContain("GNU LESSER GENERAL PUBLIC LICENSE");
    expect(notice).toContain("GNU GENERAL PUBLIC LICENSE");
  });

  test("holds no sources, no maps and no packages", () => {
    for (const path of files) expect(path).not.toMatch(/\.ts$|\.map$|node_modules|\/test\//);
  });
});

test("the package of the command holds every bundle that it or its server loads", () => {
  const call = ["pack", "--dry-run", "--json", "--ignore-scripts"];
  const [pack] = JSON.parse(execFileSync("npm", call, { cwd: root, encoding: "utf8", stdio: "pipe" }));
  const packed: readonly string[] = pack.files.map(({ path }: { readonly path: string }) => path);
  const loaded = [...Object.keys(bundles), "plagal", "server"].map((name) => `dist/${name}.cjs`);
  for (const path of loaded) expect(packed).toContain(path);
  for (const path of packed) expect(path).not.toMatch(/^dist\/client|\.ts$|\.map$|node_modules/);
});

/** A name that is missing here, or one too many, is no longer of this type. */
const bundles: Readonly<Record<BundleName, true>> = {
  exports: true,
  sheets: true,
  page: true,
  live: true,
  picture: true,
};
