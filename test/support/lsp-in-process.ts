import { PassThrough } from "node:stream";
import { createMessageConnection, StreamMessageReader, StreamMessageWriter } from "vscode-jsonrpc/node";
import { createConnection } from "vscode-languageserver/node";
import type { BundleName } from "../../server/src/exports/export-file.js";
import { exporters } from "../../server/src/exports/exporters.js";
import { live } from "../../server/src/exports/live.js";
import { pictures } from "../../server/src/exports/pictures.js";
import { sheets } from "../../server/src/exports/sheets.js";
import type { FileRead, Host } from "../../server/src/lsp/host.js";
import { startServer } from "../../server/src/lsp/server.js";
import { builtPages } from "./built-pages.js";
import { type ClientOptions, converse, type LspClient } from "./lsp-client.js";

/** The pages' program is put in by the build. */
const bundles: Readonly<Record<BundleName, () => unknown>> = {
  exports: () => ({ exporters }),
  sheets: () => ({ sheets }),
  page: () => ({ pages: builtPages() }),
  live: () => ({ live }),
  picture: () => ({ pictures }),
};

/** A machine that is nothing but these files, with a clock that stands still until it is moved. */
export interface FakeMachine {
  readonly host: Host;
  /** Texts by URI; a test may change them. */
  readonly files: Map<string, string>;
  /** Moves the clock: what falls due runs. */
  readonly advance: (milliseconds: number) => void;
  /** How many things wait for the clock. */
  readonly waiting: () => number;
  /** Reads that the server asked for, in order. */
  readonly reads: readonly string[];
}

export function fakeMachine(files: Readonly<Record<string, string>> = {}): FakeMachine {
  const texts = new Map(Object.entries(files));
  const reads: string[] = [];
  let now = 0;
  const timers = new Map<object, { readonly due: number; readonly run: () => void }>();
  const host: Host = {
    version: "1.2.3",
    pages: "pages:/",
    async read(uri): Promise<FileRead> {
      reads.push(uri);
      const text = texts.get(uri);
      return text === undefined ? { kind: "missing" } : { kind: "text", text };
    },
    charts: async (folders) =>
      [...texts.keys()].filter((uri) => folders.some((folder) => uri.startsWith(`${folder}/`))),
    bundle: async (name) => bundles[name](),
    later(milliseconds, run) {
      const key = {};
      timers.set(key, { due: now + milliseconds, run });
      return () => void timers.delete(key);
    },
    whenIdle(run) {
      let left = 4;
      const turn = (): void => {
        if (--left <= 0) run();
        else waiting = setImmediate(turn);
      };
      let waiting = setImmediate(turn);
      return () => clearImmediate(waiting);
    },
  };
  return {
    host,
    files: texts,
    advance(milliseconds) {
      now += milliseconds;
      for (const [key, { due, run }] of [...timers]) {
        if (due > now) continue;
        timers.delete(key);
        run();
      }
    },
    waiting: () => timers.size,
    reads,
  };
}

/** A client of a server in this process, on a machine of the test's own. */
export async function startInProcess(machine: FakeMachine, options: ClientOptions = {}): Promise<LspClient> {
  const [toServer, toClient] = [new PassThrough(), new PassThrough()];
  const serverSide = createConnection(new StreamMessageReader(toServer), new StreamMessageWriter(toClient));
  startServer(serverSide, machine.host);
  const clientSide = createMessageConnection(
    new StreamMessageReader(toClient),
    new StreamMessageWriter(toServer),
  );
  const client = await converse(clientSide, options, async () => undefined);
  return {
    ...client,
    // `exit` would end the process of the tests.
    async stop() {
      await clientSide.sendRequest("shutdown");
      serverSide.dispose();
      clientSide.dispose();
      return undefined;
    },
  };
}
