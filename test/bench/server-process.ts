import { type ChildProcess, spawn } from "node:child_process";
import { readdirSync, readFileSync } from "node:fs";
import {
  createMessageConnection,
  type MessageConnection,
  StreamMessageReader,
  StreamMessageWriter,
} from "vscode-jsonrpc/node";
import { serverArguments } from "../../client/server-arguments.node.js";
import type { BenchDocument } from "./lsp-documents.js";

/** A server of the bench: how it is started, and the document that it is given. */
export interface Contestant {
  readonly name: string;
  readonly program: string;
  readonly languageId: string;
  readonly documentOf: (lines: number) => BenchDocument;
}

/** Answers that a client asks for anew: cancelled, content modified, server cancelled (LSP 3.18). */
const retried: ReadonlySet<unknown> = new Set([-32800, -32801, -32802]);

/** An editor that asks for diagnostics, as today's editors do. */
const capabilities = {
  textDocument: { diagnostic: {}, hover: { contentFormat: ["markdown"] } },
  workspace: {
    configuration: true,
    diagnostics: { refreshSupport: true },
    didChangeWatchedFiles: { dynamicRegistration: true },
  },
};

/** One server at work, with its document open or not yet. */
export interface ServerProcess {
  /** Milliseconds from the start of the process to the reply to `initialize`. */
  readonly startTook: number;
  readonly open: () => void;
  /** Types the character, or takes it away again. */
  readonly change: () => void;
  /** How many problems there are; what the server puts off is asked again. */
  readonly diagnostics: () => Promise<number>;
  readonly hover: () => Promise<void>;
  /** Milliseconds of processor time so far, of all its threads. */
  readonly processorTime: () => number;
  /** The most memory that it has had, in MiB. */
  readonly peakMemory: () => number;
  readonly stop: () => Promise<void>;
}

export async function startServer(contestant: Contestant, document: BenchDocument): Promise<ServerProcess> {
  const begun = performance.now();
  const child = spawn(process.execPath, [...serverArguments(), contestant.program, "--stdio"], {
    stdio: ["pipe", "pipe", "ignore"],
  });
  const connection = connectionOf(child);
  await connection.sendRequest("initialize", { processId: process.pid, rootUri: null, capabilities });
  const startTook = performance.now() - begun;
  void connection.sendNotification("initialized", {});

  const uri = `file:///bench/document.${document.ext}`;
  const textDocument = { uri };
  const start = placeOf(document);
  const end = { line: start.line, character: start.character + document.insert.length };
  let version = 1;
  let isTyped = false;
  return {
    startTook,
    open() {
      const { languageId } = contestant;
      void connection.sendNotification("textDocument/didOpen", {
        textDocument: { uri, languageId, version, text: document.text },
      });
    },
    change() {
      isTyped = !isTyped;
      version++;
      const change = isTyped
        ? { range: { start, end: start }, text: document.insert }
        : { range: { start, end }, text: "" };
      void connection.sendNotification("textDocument/didChange", {
        textDocument: { uri, version },
        contentChanges: [change],
      });
    },
    async diagnostics() {
      for (;;) {
        try {
          const report = await connection.sendRequest<{ readonly items: readonly unknown[] }>(
            "textDocument/diagnostic",
            { textDocument },
          );
          return report.items.length;
        } catch (error) {
          if (!retried.has((error as { readonly code?: unknown }).code)) throw error;
        }
      }
    },
    async hover() {
      await connection.sendRequest("textDocument/hover", { textDocument, position: start });
    },
    processorTime: () => processorTime(child.pid as number),
    peakMemory: () => peakMemory(child.pid as number),
    async stop() {
      const gone = new Promise<void>((done) => child.once("exit", () => done()));
      await connection.sendRequest("shutdown");
      void connection.sendNotification("exit");
      await gone;
      connection.dispose();
    },
  };
}

function connectionOf({ stdout, stdin }: ChildProcess): MessageConnection {
  if (stdout === null || stdin === null) throw new Error("a server without its streams");
  const connection = createMessageConnection(new StreamMessageReader(stdout), new StreamMessageWriter(stdin));
  connection.onRequest((method, params) =>
    method === "workspace/configuration"
      ? (params as { readonly items: readonly unknown[] }).items.map(() => null)
      : null,
  );
  connection.onNotification(() => undefined);
  connection.listen();
  return connection;
}

/** Where it is typed: the first line from the middle on that has such a place. */
function placeOf({ text, find, offset }: BenchDocument): {
  readonly line: number;
  readonly character: number;
} {
  const lines = text.split("\n");
  for (let line = lines.length >> 1; line < lines.length; line++) {
    const found = new RegExp(find).exec(lines[line] as string);
    if (found !== null) return { line, character: found.index + offset };
  }
  throw new Error(`no line has a place to type at: ${find}`);
}

/** From Linux's /proc; NaN elsewhere. */
function processorTime(pid: number): number {
  try {
    const threads = readdirSync(`/proc/${pid}/task`);
    const nanoseconds = threads.map((thread) =>
      Number(readFileSync(`/proc/${pid}/task/${thread}/schedstat`, "latin1").split(" ")[0]),
    );
    return nanoseconds.reduce((sum, it) => sum + it, 0) / 1e6;
  } catch {
    return Number.NaN;
  }
}

function peakMemory(pid: number): number {
  try {
    const [, kibibytes] = /VmHWM:\s*(\d+)/.exec(readFileSync(`/proc/${pid}/status`, "latin1")) ?? [];
    return Number(kibibytes) / 1024;
  } catch {
    return Number.NaN;
  }
}
