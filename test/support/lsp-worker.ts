import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import { Worker } from "node:worker_threads";
import {
  AbstractMessageReader,
  AbstractMessageWriter,
  createMessageConnection,
  type DataCallback,
  type Message,
} from "vscode-jsonrpc/node";
import { type ClientOptions, converse, type LspClient } from "./lsp-client.js";

/** What a browser's worker has and a thread of Node has not, and the other way round. */
const asInBrowser = `
const { parentPort } = require("node:worker_threads");
const self = globalThis.self = globalThis;
self.postMessage = (message) => parentPort.postMessage(message);
self.close = () => process_.exit();
const listeners = [];
Object.defineProperty(self, "onmessage", { set: (listener) => listeners.push(listener) });
self.addEventListener = (kind, listener) => { if (kind === "message") listeners.push(listener); };
parentPort.on("message", (data) => { for (const listener of listeners) listener({ data }); });
const programs = new Map();
self.Blob = class { constructor(parts) { this.text = parts.join(""); } };
URL.createObjectURL = ({ text }) => { const address = "blob:" + programs.size; programs.set(address, text); return address; };
URL.revokeObjectURL = (address) => programs.delete(address);
self.importScripts = (address) => (0, eval)(programs.get(address));
const process_ = process;
delete globalThis.process;
delete globalThis.Buffer;
delete globalThis.setImmediate;
delete globalThis.clearImmediate;
const require_ = require;
`;

class WorkerReader extends AbstractMessageReader {
  readonly #worker: Worker;
  constructor(worker: Worker) {
    super();
    this.#worker = worker;
  }
  listen(callback: DataCallback) {
    this.#worker.on("message", callback);
    return { dispose: () => void this.#worker.off("message", callback) };
  }
}

class WorkerWriter extends AbstractMessageWriter {
  readonly #worker: Worker;
  constructor(worker: Worker) {
    super();
    this.#worker = worker;
  }
  async write(message: Message): Promise<void> {
    this.#worker.postMessage(message);
  }
  end(): void {}
}

/** A client of the bundled web server, in a thread that looks like a browser's worker. */
export async function startInWorker(options: ClientOptions = {}): Promise<LspClient> {
  const bundle = readFileSync(resolve("dist/server-web.js"), "utf8");
  const hidden = "const [process, Buffer, require, module, exports] = [];";
  const worker = new Worker(`${asInBrowser}\n{ ${hidden}\n${bundle}\n}`, { eval: true });
  const connection = createMessageConnection(new WorkerReader(worker), new WorkerWriter(worker));
  return converse(connection, options, async () => {
    await worker.terminate();
    return undefined;
  });
}
