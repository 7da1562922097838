import { decodeUtf8, encodeUtf8 } from "../text/utf8.js";
import { complain } from "./command.js";
import { type ExitCode, type Io, isFailure } from "./io.js";

/** A chart's text as it was read. */
export interface Source {
  /** As the user gave it; `-` for standard input. */
  readonly path: string;
  /** The byte order mark that it began with, or "". */
  readonly mark: string;
  readonly text: string;
}

const byteOrderMark = "\ufeff";
const megabyte = 1024 * 1024;
/** Bytes of a chart at most: some 60,000 lines, far beyond any service. A larger file is hardly a chart. */
export const largest = 4 * megabyte;

/** What people read in place of a path. */
export const nameOfSource = (path: string): string => (path === "-" ? "standard input" : path);

/** Reads a chart, or complains and gives `undefined`. */
export function readSource(io: Io, path: string): Source | undefined {
  const bytes = path === "-" ? io.readStandardInput() : io.read(path);
  if (isFailure(bytes)) {
    complain(io, `can't read ${nameOfSource(path)}: ${bytes.failure}.`);
    return undefined;
  }
  if (bytes.length > largest) {
    const size = (bytes.length / megabyte).toFixed(1);
    complain(
      io,
      `can't read ${nameOfSource(path)}: it is ${size} MB, and a chart is at most ${largest / megabyte}. Part it into several charts.`,
    );
    return undefined;
  }
  const text = decodeUtf8(bytes);
  if (typeof text !== "string") {
    complain(io, `can't read ${nameOfSource(path)}: ${whyNotUtf8(bytes, text.invalidAt)}`);
    return undefined;
  }
  const mark = text.startsWith(byteOrderMark) ? byteOrderMark : "";
  return { path, mark, text: text.slice(mark.length) };
}

function whyNotUtf8(bytes: Uint8Array, at: number): string {
  const starts = `${bytes[0]} ${bytes[1]}`;
  const is16 = starts === "255 254" || starts === "254 255";
  const line = bytes.subarray(0, at).reduce((lines, byte) => lines + (byte === 10 ? 1 : 0), 1);
  const found = is16 ? "it is UTF-16, not UTF-8" : `it isn't UTF-8 text (byte ${at + 1}, on line ${line})`;
  return `${found}. Save it as UTF-8 and try again.`;
}

/** Puts a new text in place of the file that the source was read from. */
export function writeBack(io: Io, source: Source, text: string): ExitCode {
  return writeChart(io, source.path, source.mark + text);
}

export function writeChart(io: Io, path: string, text: string): ExitCode {
  const failed = io.write(path, encodeUtf8(text));
  return failed === undefined ? 0 : complain(io, `can't write ${path}: ${failed.failure}.`);
}
