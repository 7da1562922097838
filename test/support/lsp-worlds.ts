import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { type ClientOptions, type LspClient, startClient, uriOf } from "./lsp-client.js";
import { fakeMachine, startInProcess } from "./lsp-in-process.js";
import { startInWorker } from "./lsp-worker.js";
import { root } from "./root.js";

/** A workspace folder, and a way to start a server that sees it. */
export interface World {
  /** The URI of a file in the folder, or of the folder itself. */
  readonly uri: (path?: string) => string;
  /** Writes a file; the server is not told. */
  readonly write: (path: string, text: string) => void;
  readonly start: (options?: ClientOptions) => Promise<LspClient>;
  readonly leave: () => void;
}

type Files = Readonly<Record<string, string>>;

/** The command as an editor starts it, on files of the disk. */
function onDisk(files: Files): World {
  const folder = mkdtempSync(join(tmpdir(), "plagal-lsp-"));
  const write = (path: string, text: string): void => {
    mkdirSync(dirname(join(folder, path)), { recursive: true });
    writeFileSync(join(folder, path), text);
  };
  for (const [path, text] of Object.entries(files)) write(path, text);
  const uri = (path?: string): string => uriOf(path === undefined ? folder : join(folder, path));
  return {
    uri,
    write,
    start: (options = {}) => startClient({ folders: [uri()], ...options }),
    leave: () => rmSync(folder, { recursive: true }),
  };
}

/** The web server in a worker, with files that only the client can read, under a scheme of its own. */
function inWorker(files: Files): World {
  const folder = "memfs://place/charts";
  const uri = (path?: string): string => (path === undefined ? folder : `${folder}/${path}`);
  const texts = new Map(Object.entries(files).map(([path, text]) => [uri(path), text]));
  return {
    uri,
    write: (path, text) => void texts.set(uri(path), text),
    start: (options = {}) =>
      startInWorker({
        folders: [folder],
        ...options,
        initializationOptions: {
          readsFiles: true,
          pages: "memfs://place/checks/",
          ...(options.initializationOptions as object | undefined),
        },
        answers: {
          "plagal/read": (params: { readonly uri: string }) => ({ text: texts.get(params.uri) ?? null }),
          "plagal/charts": () => ({ uris: [...texts.keys()] }),
          "plagal/script": ({ name }: { readonly name: string }) => ({
            text: readFileSync(join(root, `dist/${name}.cjs`), "utf8"),
          }),
          ...options.answers,
        },
      }),
    leave: () => undefined,
  };
}

/** The server in the process of the tests. */
function inProcess(files: Files): World {
  const folder = "vscode-vfs://github/charts";
  const uri = (path?: string): string => (path === undefined ? folder : `${folder}/${path}`);
  const machine = fakeMachine(
    Object.fromEntries(Object.entries(files).map(([path, text]) => [uri(path), text])),
  );
  return {
    uri,
    write: (path, text) => void machine.files.set(uri(path), text),
    start: (options = {}) => startInProcess(machine, { folders: [folder], ...options }),
    leave: () => undefined,
  };
}

/** The same server, three ways: what ships for the desktop, what ships for the web, and its sources. */
export const worlds: ReadonlyArray<readonly [name: string, make: (files: Files) => World]> = [
  ["the command over standard input and output", onDisk],
  ["the web server in a worker", inWorker],
  ["the server in this process", inProcess],
];
