import { readFileSync } from "node:fs";
import { builtinModules } from "node:module";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { root } from "../support/root.js";
import { startBundle } from "./editor-double.js";

const { contributes } = JSON.parse(readFileSync(join(root, "package.json"), "utf8"));
const named = (contributes.commands as { command: string }[]).map(({ command }) => command);
const bundles = ["dist/client.cjs", "dist/client-web.js"];

describe.each(bundles)("%s", (bundle) => {
  const text = readFileSync(join(root, bundle), "utf8");

  test("registers every command of the manifest, and no other", async () => {
    const { commands } = await startBundle(bundle);
    expect(commands).toEqual(named);
  });

  test("asks for nothing from the network", () => {
    expect(text.match(/require\("(?:node:)?(?:https?|http2|dns|tls|dgram)"\)/)).toBeNull();
    expect(text.match(/\bfetch\(|XMLHttpRequest|WebSocket|sendBeacon|importScripts/)).toBeNull();
  });

  test("knows no telemetry", () => {
    expect(text.match(/createTelemetryLogger|appinsights|applicationinsights/i)).toBeNull();
  });
});

test("the web's bundle asks for the editor alone", async () => {
  const text = readFileSync(join(root, "dist/client-web.js"), "utf8");
  const asked = [...text.matchAll(/\brequire\("([^"]+)"\)/g)].map(([, name]) => name as string);
  expect(new Set(asked)).toEqual(new Set(["vscode"]));
  for (const name of builtinModules) expect(asked).not.toContain(name);
});

test("the server's worker asks for nothing but programs that it was handed as text", () => {
  const text = readFileSync(join(root, "dist/server-web.js"), "utf8");
  // `module.require` behind a question whether there is one is lodash, which asks it in vain here.
  expect(text.match(/(?<![.\w])require\("/)).toBeNull();
  expect(text.match(/\bfetch\(|XMLHttpRequest|WebSocket/)).toBeNull();
  // An address of its own making, in main/worker.ts.
  expect(text.match(/importScripts\(/g)).toHaveLength(1);
});

test.each(["exports", "sheets", "page", "live", "picture"])(
  "the bundle %s runs in a worker as it does in Node",
  (name) => {
    const text = readFileSync(join(root, `dist/${name}.cjs`), "utf8");
    expect(text.match(/(?<![.\w])require\("/)).toBeNull();
  },
);
