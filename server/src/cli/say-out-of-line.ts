import type { Io } from "./io.js";

/** Says on standard error that a chart, or a folder of them, has rows that a change moved out of line. */
export const sayOutOfLine = (io: Io, name: string): void =>
  io.err(`plagal: ${name}: some rows no longer stand in line. \`plagal format\` lines them up.\n`);
