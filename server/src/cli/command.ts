import type { ExitCode, Io } from "./io.js";
import type { Call, Option } from "./options.js";

/** One command of the program. Everything that its help says comes from here. */
export interface Command {
  readonly name: string;
  /** What follows the name in a call, one line each way to call it: `FILE…`. */
  readonly usages: readonly string[];
  /** What it does, for the list of commands: one line. */
  readonly summary: string;
  /** More about it, for its own help: sentences. */
  readonly about: string;
  readonly options: readonly Option[];
  readonly run: (call: Call, io: Io) => ExitCode;
}

/** Says on standard error that the call can't be followed. */
export function complain(io: Io, text: string): 2 {
  io.err(`plagal: ${text}\n`);
  return 2;
}

/** As `complain`, with the way to the command's help. */
export const misuse = (io: Io, command: string, text: string): 2 =>
  complain(io, `${text} \`plagal ${command} --help\` shows how to call it.`);
