import { readdir, readFile, realpath, stat } from "node:fs/promises";
import { createRequire } from "node:module";
import { dirname, join, sep } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import type { FileRead, Host } from "../lsp/host.js";
import { decodeUtf8 } from "../text/utf8.js";

/** Charts that are looked for at most, and folders that are looked into. */
const [mostCharts, mostFolders] = [10_000, 5_000];
/** Bytes of a file at most, as on the command line. */
const largest = 4 * 1024 * 1024;
/** Turns of the event loop without a message after which nothing more is waiting: reading one takes up to three. */
const turns = 4;

/** `undefined` for what is no file of this machine. */
function pathOf(uri: string): string | undefined {
  try {
    return fileURLToPath(uri);
  } catch {
    return undefined;
  }
}

/** Links are followed first, so that none leads out of the folders. */
async function read(uri: string, folders: readonly string[]): Promise<FileRead> {
  const path = pathOf(uri);
  if (path === undefined) return { kind: "missing" };
  try {
    const real = await realpath(path);
    const roots = await Promise.all(folders.map((folder) => realpath(pathOf(folder) ?? "").catch(() => "")));
    const isInside = roots.some(
      (root) => root !== "" && real.startsWith(root.endsWith(sep) ? root : root + sep),
    );
    if (!isInside) return { kind: "outside" };
    const { size } = await stat(real);
    const text = size > largest ? undefined : decodeUtf8(await readFile(real));
    return typeof text === "string"
      ? { kind: "text", text: text.replace(/^\ufeff/, "") }
      : { kind: "unreadable" };
  } catch (error) {
    const { code } = error as { readonly code?: string };
    return { kind: code === "ENOENT" || code === "ENOTDIR" ? "missing" : "unreadable" };
  }
}

/** Hidden folders and `node_modules` hold other people's files. */
async function charts(folders: readonly string[]): Promise<readonly string[]> {
  const found: string[] = [];
  const waiting = folders.map(pathOf).filter((path) => path !== undefined);
  for (let i = 0; i < waiting.length && i < mostFolders; i++) {
    const folder = waiting[i] as string;
    const entries = await readdir(folder, { withFileTypes: true }).catch(() => []);
    for (const entry of entries) {
      const path = join(folder, entry.name);
      if (entry.isDirectory()) {
        if (!entry.name.startsWith(".") && entry.name !== "node_modules") waiting.push(path);
      } else if (entry.name.endsWith(".plagal") && found.length < mostCharts) {
        found.push(pathToFileURL(path).href);
      }
    }
  }
  return found;
}

function later(milliseconds: number, run: () => void): () => void {
  const timer = setTimeout(run, milliseconds);
  return () => clearTimeout(timer);
}

function whenIdle(run: () => void): () => void {
  let left = turns;
  const turn = (): void => {
    if (--left <= 0) run();
    else waiting = setImmediate(turn);
  };
  let waiting = setImmediate(turn);
  return () => clearImmediate(waiting);
}

/** This machine: its disk and its clock. `program` is the file that runs; the check pages stand beside it. */
export const nodeHost = (version: string, program: string): Host => ({
  version,
  pages: pathToFileURL(join(dirname(program), "checks") + sep).href,
  read,
  charts,
  bundle: async (name) => createRequire(program)(`./${name}.cjs`),
  later,
  whenIdle,
});
