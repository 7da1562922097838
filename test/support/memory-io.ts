import { posix } from "node:path";
import type { Io } from "../../server/src/cli/io.js";
import { run } from "../../server/src/cli/run.js";
import { exporters } from "../../server/src/exports/exporters.js";
import { sheets } from "../../server/src/exports/sheets.js";
import { builtPages } from "./built-pages.js";

/** What a call of the command left behind. */
export interface Outcome {
  readonly code: number;
  readonly out: string;
  readonly err: string;
  /** All files after the call, as text. */
  readonly files: Readonly<Record<string, string>>;
}

/** The same, with the files as bytes. */
export interface OutcomeInBytes extends Omit<Outcome, "files"> {
  readonly bytes: Readonly<Record<string, Uint8Array>>;
}

export interface Situation {
  /** Texts or bytes by path. */
  readonly files?: Readonly<Record<string, string | Uint8Array>>;
  readonly input?: string | Uint8Array;
  readonly terminal?: boolean;
  readonly noColor?: boolean;
  /** Paths that can't be written. */
  readonly locked?: readonly string[];
}

const bytesOf = (content: string | Uint8Array): Uint8Array =>
  typeof content === "string" ? new Uint8Array(Buffer.from(content)) : content;

/** Runs the command in a world that is nothing but these files. */
export function plagal(args: readonly string[], situation: Situation = {}): Outcome {
  const { bytes, ...outcome } = plagalInBytes(args, situation);
  const texts = Object.entries(bytes).map(([path, it]) => [path, Buffer.from(it).toString("utf8")] as const);
  return { ...outcome, files: Object.fromEntries(texts) };
}

/** The same, for files that are no text. */
export function plagalInBytes(args: readonly string[], situation: Situation = {}): OutcomeInBytes {
  const files = new Map(Object.entries(situation.files ?? {}).map(([path, it]) => [path, bytesOf(it)]));
  const locked = new Set(situation.locked ?? []);
  let out = "";
  let err = "";
  const io: Io = {
    read: (path) => files.get(path) ?? { failure: "there is no such file or folder" },
    readStandardInput: () => bytesOf(situation.input ?? ""),
    nameOf: (path) => path,
    locate: (_chart, from, path) => {
      const wanted = posix.join(posix.dirname(from), path);
      if (wanted.startsWith("..") || posix.isAbsolute(path)) return { kind: "outside" };
      return files.has(wanted) ? { kind: "file", path: wanted } : { kind: "missing" };
    },
    write: (path, bytes) => {
      if (locked.has(path)) return { failure: "it may not be opened" };
      files.set(path, bytes);
      return undefined;
    },
    writeNew: (path, bytes) => {
      if (files.has(path)) return { failure: "a file with that name is there", exists: true };
      if (locked.has(path)) return { failure: "it may not be opened" };
      files.set(path, bytes);
      return undefined;
    },
    makeFolder: (path) => (locked.has(path) ? { failure: "it may not be opened" } : undefined),
    join: posix.join,
    exporters: () => exporters,
    sheets: () => sheets,
    pages: builtPages,
    serve: () => {
      out += "(the language server)";
    },
    out: (text) => {
      out += text;
    },
    err: (text) => {
      err += text;
    },
    isTerminal: situation.terminal ?? false,
    noColor: situation.noColor ?? false,
    version: "1.2.3",
  };
  const code = run(args, io);
  return { code, out, err, bytes: Object.fromEntries(files) };
}

/** A text whose first line break and shared indentation belong to the test. */
export function dedent(text: string): string {
  const lines = text.replace(/^\n/, "").replace(/ +$/, "").split("\n");
  const indent = Math.min(...lines.filter((line) => line !== "").map((line) => line.search(/\S|$/)));
  return lines.map((line) => line.slice(indent)).join("\n");
}
