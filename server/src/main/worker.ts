import { BrowserMessageReader, BrowserMessageWriter, createConnection } from "vscode-languageserver/browser";
import { startServer } from "../lsp/server.js";

declare const PLAGAL_VERSION: string;
/** What a worker has of its own; only this file knows it. */
declare const self: ConstructorParameters<typeof BrowserMessageReader>[0];
declare function setTimeout(run: () => void, milliseconds: number): number;
declare function clearTimeout(timer: number): void;

/** Milliseconds without a message after which nothing more is waiting. */
const pause = 4;

function later(milliseconds: number, run: () => void): () => void {
  const timer = setTimeout(run, milliseconds);
  return () => clearTimeout(timer);
}

startServer(createConnection(new BrowserMessageReader(self), new BrowserMessageWriter(self)), {
  version: PLAGAL_VERSION,
  pages: undefined,
  // A worker has no disk: a client that says so reads for it.
  read: async () => ({ kind: "missing" }),
  charts: async () => [],
  later,
  whenIdle: (run) => later(pause, run),
});
