import { BrowserMessageReader, BrowserMessageWriter, createConnection } from "vscode-languageserver/browser";
import type { BundleName } from "../exports/export-file.js";
import { startServer } from "../lsp/server.js";

declare const PLAGAL_VERSION: string;
/** What a worker has of its own; only this file knows it. */
declare const self: ConstructorParameters<typeof BrowserMessageReader>[0];
declare function importScripts(address: string): void;
declare const Blob: new (parts: readonly string[], options: { readonly type: string }) => object;
declare const URL: { createObjectURL(blob: object): string; revokeObjectURL(address: string): void };
declare function setTimeout(run: () => void, milliseconds: number): number;
declare function clearTimeout(timer: number): void;

/** Milliseconds without a message after which nothing more is waiting. */
const pause = 4;

function later(milliseconds: number, run: () => void): () => void {
  const timer = setTimeout(run, milliseconds);
  return () => clearTimeout(timer);
}

const bundles = new Map<string, Promise<unknown>>();
/** Where a bundle leaves what it holds, as it would in Node. */
const place = self as unknown as { plagalModule?: { exports: unknown } };

/** A worker may have no address of its own to load from, so the program comes as text. */
async function bundle(name: BundleName, script: (name: BundleName) => Promise<string>): Promise<unknown> {
  const text = await script(name);
  const module = { exports: {} };
  place.plagalModule = module;
  const program = `(function (module, exports) {${text}\n})(self.plagalModule, self.plagalModule.exports);`;
  const address = URL.createObjectURL(new Blob([program], { type: "text/javascript" }));
  try {
    importScripts(address);
  } finally {
    URL.revokeObjectURL(address);
    delete place.plagalModule;
  }
  return module.exports;
}

startServer(createConnection(new BrowserMessageReader(self), new BrowserMessageWriter(self)), {
  version: PLAGAL_VERSION,
  pages: undefined,
  // A worker has no disk: a client that says so reads for it.
  read: async () => ({ kind: "missing" }),
  charts: async () => [],
  bundle(name, script) {
    const known = bundles.get(name) ?? bundle(name, script);
    bundles.set(name, known);
    // What failed may be tried again.
    known.catch(() => bundles.delete(name));
    return known;
  },
  later,
  whenIdle: (run) => later(pause, run),
});
