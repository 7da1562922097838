import { type InLine, inLine } from "../edits/in-line.js";
import { parse } from "../syntax/parse.js";
import type { Tree } from "../syntax/tree.js";
import type { Io } from "./io.js";

/** Whether rows that stood in line in the chart no longer do so in its new text. */
export function isOutOfLine(before: Tree, text: string): boolean {
  if (text === before.text) return false;
  const was = inLine(before);
  const is: InLine = inLine(parse(text));
  return is.formatted < was.formatted || is.straight < was.straight;
}

/** Says on standard error that a chart, or a folder of them, has rows that a change moved out of line. */
export const sayOutOfLine = (io: Io, name: string): void =>
  io.err(`plagal: ${name}: some rows no longer stand in line. \`plagal format\` lines them up.\n`);
