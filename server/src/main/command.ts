import { mkdirSync, readFileSync, realpathSync, writeFileSync } from "node:fs";
import { dirname, isAbsolute, join, relative, resolve, sep } from "node:path";
import type { Failure, Io, Located } from "../cli/io.js";
import { run } from "../cli/run.js";
import { loadExporters, loadPages, loadSheets } from "./load-exporters.js";
import { serveEditor } from "./serve-editor.js";

declare const PLAGAL_VERSION: string;

/** Plain words for what the system says. */
const reasons: Readonly<Record<string, string>> = {
  ENOENT: "there is no such file or folder",
  ENOTDIR: "a part of the path is a file, not a folder",
  EISDIR: "it is a folder",
  EACCES: "it may not be opened",
  EPERM: "it may not be opened",
  ENOSPC: "the disk is full",
  EROFS: "the disk can't be written to",
  EEXIST: "a file with that name is there",
  ELOOP: "its links go in a circle",
  ENAMETOOLONG: "the name is too long",
};

function failureOf(error: unknown): Failure {
  const { code = "", message = "" } = error as { code?: string; message?: string };
  const failure = reasons[code] ?? (code === "" ? message : code);
  return code === "EEXIST" ? { failure, exists: true } : { failure };
}

function attempt<T>(act: () => T): T | Failure {
  try {
    return act();
  } catch (error) {
    return failureOf(error);
  }
}

const here = realpathSync(process.cwd());

function realPath(path: string): string | undefined {
  try {
    return realpathSync(path);
  } catch {
    return undefined;
  }
}

/** Inside the working folder a path from there, else the whole path. */
function shortName(path: string): string {
  const short = relative(here, path);
  return short.startsWith("..") || isAbsolute(short) ? path : short;
}

const nameOf = (path: string): string =>
  path === "-" ? path : shortName(realPath(path) ?? resolve(here, path));

const isInside = (folder: string, path: string): boolean =>
  path.startsWith(folder.endsWith(sep) ? folder : folder + sep);

/** Links are followed first, so that none leads outside. */
function locate(chart: string, from: string, path: string): Located {
  const start = (it: string): string => (it === "-" ? here : dirname(realPath(it) ?? resolve(here, it)));
  const roots = [here, start(chart)];
  const isAllowed = (it: string): boolean => roots.some((root) => isInside(root, it));
  const wanted = resolve(start(from), path);
  if (isAbsolute(path) || !isAllowed(wanted)) return { kind: "outside" };
  const real = realPath(wanted);
  if (real === undefined) return { kind: "missing" };
  return isAllowed(real) ? { kind: "file", path: shortName(real) } : { kind: "outside" };
}

const io: Io = {
  read: (path) => attempt(() => new Uint8Array(readFileSync(path))),
  readStandardInput: () => attempt(() => new Uint8Array(readFileSync(0))),
  nameOf,
  locate,
  write: (path, bytes) => attempt(() => writeFileSync(path, bytes)) ?? undefined,
  writeNew: (path, bytes) => attempt(() => writeFileSync(path, bytes, { flag: "wx" })) ?? undefined,
  makeFolder: (path) => attempt(() => void mkdirSync(path, { recursive: true })) ?? undefined,
  join,
  exporters: loadExporters,
  sheets: loadSheets,
  pages: loadPages,
  serve: serveEditor,
  out: (text) => process.stdout.write(text),
  err: (text) => process.stderr.write(text),
  isTerminal: process.stdout.isTTY === true,
  noColor: (process.env.NO_COLOR ?? "") !== "",
  version: PLAGAL_VERSION,
};

// A reader that has seen enough, such as `head`, closes the pipe: no mistake of ours.
process.stdout.on("error", (error: { code?: string }) => {
  if (error.code !== "EPIPE") throw error;
});

try {
  process.exitCode = run(process.argv.slice(2), io);
} catch (error) {
  // A slip of ours, never of the chart: one line, and nothing half done is written.
  io.err(
    `plagal: this should not have happened: ${(error as Error).message}. Please tell us which chart did it.\n`,
  );
  process.exitCode = 2;
}
