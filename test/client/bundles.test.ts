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
    expect(text).not.toMatch(/require\("(?:node:)?(?:https?|http2|dns|tls|dgram)"\)/);
    expect(text).not.toMatch(/\bfetch\(|XMLHttpRequest|WebSocket|sendBeacon|importScripts/);
  });

  test("knows no telemetry", () => {
    expect(text).not.toMatch(/createTelemetryLogger|appinsights|applicationinsights/i);
  });
});

test("the web's bundle asks for the editor alone", async () => {
  const text = readFileSync(join(root, "dist/client-web.js"), "utf8");
  const asked = [...text.matchAll(/\brequire\("([^"]+)"\)/g)].map(([, name]) => name as string);
  expect(new Set(asked)).toEqual(new Set(["vscode"]));
  for (const name of builtinModules) expect(asked).not.toContain(name);
});

test("the server's worker asks for nothing", () => {
  const text = readFileSync(join(root, "dist/server-web.js"), "utf8");
  expect(text).not.toMatch(/\brequire\("/);
  expect(text).not.toMatch(/\bfetch\(|XMLHttpRequest|WebSocket|importScripts/);
});
