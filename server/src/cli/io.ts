import type { Exporters } from "../exports/exporters.js";
import type { Pages } from "../exports/pages.js";
import type { Sheets } from "../exports/sheets.js";

/** Why the machine couldn't do what it was asked, as the end of a sentence: `there is no such file`. */
export interface Failure {
  readonly failure: string;
  /** A file is there already. */
  readonly exists?: boolean;
}

/** A file of the workspace under its one name, or why there is none. */
export type Located =
  | { readonly kind: "file"; readonly path: string }
  | { readonly kind: "missing" | "outside" };

/** All that the command asks of the machine it runs on. Paths are as the user gave them. */
export interface Io {
  /** The bytes of a file. */
  readonly read: (path: string) => Uint8Array | Failure;
  readonly readStandardInput: () => Uint8Array | Failure;
  /** The one name of a file among all that this run meets, however it was named. */
  readonly nameOf: (path: string) => string;
  /**
   * The file that a `use` line in `from` names: never one outside the workspace, which is the working folder and
   * the folder of `chart`, the chart that was named in the call.
   */
  readonly locate: (chart: string, from: string, path: string) => Located;
  /** Writes a whole file, in place of one that is there. */
  readonly write: (path: string, bytes: Uint8Array) => Failure | undefined;
  /** Writes a file that isn't there yet; where one is, it stays as it is. */
  readonly writeNew: (path: string, bytes: Uint8Array) => Failure | undefined;
  /** Makes a folder with those above it, where it isn't there. */
  readonly makeFolder: (path: string) => Failure | undefined;
  /** A path inside a folder. */
  readonly join: (folder: string, name: string) => string;
  /** What makes files of charts, loaded when first asked for. */
  readonly exporters: () => Exporters;
  /** What prints and draws charts, loaded when first asked for. */
  readonly sheets: () => Sheets;
  /** What makes pages that play themselves, loaded when first asked for. */
  readonly pages: () => Pages;
  /** Hands standard input and output over to the language server, which goes on after the command is done. */
  readonly serve: () => void;
  readonly out: (text: string) => void;
  readonly err: (text: string) => void;
  /** Standard output is a terminal. */
  readonly isTerminal: boolean;
  /** `NO_COLOR` is set. */
  readonly noColor: boolean;
  readonly version: string;
}

/** 0: done, nothing to complain of. 1: problems. 2: wrong use, or a file that can't be read. */
export type ExitCode = 0 | 1 | 2;

/** The graver of two outcomes. */
export const graver = (a: ExitCode, b: ExitCode): ExitCode => (a > b ? a : b);

export const isFailure = (it: Uint8Array | Failure): it is Failure => !(it instanceof Uint8Array);
