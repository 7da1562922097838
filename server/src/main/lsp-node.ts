import { realpathSync } from "node:fs";
import { createConnection } from "vscode-languageserver/node";
import { startServer } from "../lsp/server.js";
import { nodeHost } from "./node-host.js";

declare const PLAGAL_VERSION: string;

/** How a client may talk to the server; the connection reads it from the call. */
const ways = /^--(?:stdio|node-ipc|socket|pipe)(?:=|$)/;

if (process.argv.some((it) => ways.test(it))) {
  const program = realpathSync(process.argv[1] as string);
  startServer(createConnection(), nodeHost(PLAGAL_VERSION, program));
} else {
  process.stderr.write("plagal: a language server talks to an editor. Call it as `plagal lsp --stdio`.\n");
  process.exitCode = 2;
}
