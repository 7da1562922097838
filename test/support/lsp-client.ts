import { type ChildProcess, spawn } from "node:child_process";
import { resolve } from "node:path";
import { pathToFileURL } from "node:url";
import {
  createMessageConnection,
  type MessageConnection,
  StreamMessageReader,
  StreamMessageWriter,
} from "vscode-jsonrpc/node";
import type {
  ClientCapabilities,
  Diagnostic,
  InitializeResult,
  Position,
  PublishDiagnosticsParams,
  TextDocumentContentChangeEvent,
} from "vscode-languageserver";

const program = resolve("dist/plagal.cjs");

/** How long a test waits for what should come, in milliseconds; far more than it takes. */
const patience = 60_000;

export interface ClientOptions {
  readonly capabilities?: ClientCapabilities;
  /** Folders of the workspace. */
  readonly folders?: readonly string[];
  readonly initializationOptions?: unknown;
  /** Answers `workspace/configuration` by section and scope; without it the client can't be asked. */
  readonly settings?: (scope: string | undefined) => unknown;
  /** The connection is in use already. */
  readonly isListening?: boolean;
  /** Answers other requests of the server. */
  readonly answers?: Readonly<Record<string, (params: never) => unknown>>;
}

/** A client as an editor is one: what it sent, and what came back. */
export interface LspClient {
  readonly connection: MessageConnection;
  readonly initialized: InitializeResult;
  /** Every publish, in order. */
  readonly published: readonly PublishDiagnosticsParams[];
  /** Requests of the server that have come, by method. */
  readonly asked: readonly { readonly method: string; readonly params: unknown }[];
  readonly request: <R>(method: string, params: unknown) => Promise<R>;
  readonly notify: (method: string, params: unknown) => void;
  readonly open: (uri: string, text: string, version?: number) => void;
  readonly change: (uri: string, version: number, changes: readonly TextDocumentContentChangeEvent[]) => void;
  readonly close: (uri: string) => void;
  /** The diagnostics published for a version, also if they came before; of several publishes the last. */
  readonly diagnostics: (uri: string, version: number) => Promise<readonly Diagnostic[]>;
  /** Waits for a publish that holds, also one that came before. */
  readonly publish: (holds: (it: PublishDiagnosticsParams) => boolean) => Promise<PublishDiagnosticsParams>;
  /** Shuts the server down; gives its exit code where it is a process. */
  readonly stop: () => Promise<number | null | undefined>;
}

/** Speaks over a connection that listens already; `end` waits for the server to be gone. */
export async function converse(
  connection: MessageConnection,
  options: ClientOptions,
  end: () => Promise<number | null | undefined>,
): Promise<LspClient> {
  const published: PublishDiagnosticsParams[] = [];
  const asked: { method: string; params: unknown }[] = [];
  const waiting = new Set<() => void>();

  connection.onNotification("textDocument/publishDiagnostics", (params: PublishDiagnosticsParams) => {
    published.push(params);
    for (const look of [...waiting]) look();
  });
  connection.onNotification(() => undefined);
  connection.onRequest((method, params) => {
    asked.push({ method, params });
    if (method === "workspace/configuration" && options.settings !== undefined) {
      const { items } = params as { readonly items: readonly { readonly scopeUri?: string }[] };
      return items.map(({ scopeUri }) => options.settings?.(scopeUri) ?? null);
    }
    return options.answers?.[method]?.(params as never) ?? null;
  });
  if (options.isListening !== true) connection.listen();

  const publish: LspClient["publish"] = (holds) =>
    new Promise((found, failed) => {
      const look = (): void => {
        const it = published.findLast(holds);
        if (it === undefined) return;
        waiting.delete(look);
        clearTimeout(timer);
        found(it);
      };
      const timer = setTimeout(() => {
        waiting.delete(look);
        failed(new Error(`no such publish; there were ${JSON.stringify(published.slice(-3))}`));
      }, patience);
      waiting.add(look);
      look();
    });

  const capabilities: ClientCapabilities =
    options.settings === undefined
      ? (options.capabilities ?? {})
      : { ...options.capabilities, workspace: { ...options.capabilities?.workspace, configuration: true } };
  const folders = options.folders ?? [];
  const initialized = await connection.sendRequest<InitializeResult>("initialize", {
    processId: null,
    rootUri: folders[0] ?? null,
    ...(folders.length === 0 ? {} : { workspaceFolders: folders.map((uri) => ({ uri, name: uri })) }),
    capabilities,
    ...(options.initializationOptions === undefined
      ? {}
      : { initializationOptions: options.initializationOptions }),
  });
  const notify = (method: string, params: unknown): void =>
    void connection.sendNotification(method, params).catch(() => undefined);
  notify("initialized", {});
  return {
    connection,
    initialized,
    published,
    asked,
    request: (method, params) => connection.sendRequest(method, params),
    notify,
    open: (uri, text, version = 1) =>
      notify("textDocument/didOpen", { textDocument: { uri, languageId: "plagal", version, text } }),
    change: (uri, version, contentChanges) =>
      notify("textDocument/didChange", { textDocument: { uri, version }, contentChanges }),
    close: (uri) => notify("textDocument/didClose", { textDocument: { uri } }),
    publish,
    diagnostics: async (uri, version) =>
      (await publish((it) => it.uri === uri && it.version === version)).diagnostics,
    async stop() {
      await connection.sendRequest("shutdown");
      notify("exit", undefined);
      const code = await end();
      connection.dispose();
      return code;
    },
  };
}

export interface Spawned {
  readonly child: ChildProcess;
  readonly connection: MessageConnection;
  /** What the server wrote to standard error. */
  readonly errors: () => string;
  readonly ended: Promise<number | null>;
}

/** Starts the bundled server as an editor does. */
export function spawnServer(): Spawned {
  const child = spawn(process.execPath, [program, "lsp", "--stdio"], { stdio: ["pipe", "pipe", "pipe"] });
  let errors = "";
  child.stderr?.on("data", (data: Buffer) => {
    errors += data.toString();
  });
  const ended = new Promise<number | null>((done) => child.on("exit", (code) => done(code)));
  const connection = createMessageConnection(
    new StreamMessageReader(child.stdout as NonNullable<typeof child.stdout>),
    new StreamMessageWriter(child.stdin as NonNullable<typeof child.stdin>),
  );
  return { child, connection, errors: () => errors, ended };
}

/** A client of the bundled server over standard input and output. */
export async function startClient(options: ClientOptions = {}): Promise<LspClient> {
  const { connection, ended } = spawnServer();
  return converse(connection, options, () => ended);
}

/** Where a text stands: the position of an offset, counted apart from the server. */
export function positionIn(text: string, offset: number): Position {
  const before = text.slice(0, offset).split(/\r\n|\n|\r/);
  return { line: before.length - 1, character: (before.at(-1) as string).length };
}

export const uriOf = (path: string): string => pathToFileURL(path).href;
