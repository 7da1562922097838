import { reparse } from "../syntax/parse.js";
import type { Line, Tree } from "../syntax/tree.js";
import { columnsOf } from "../text/columns.js";
import { systemsOf } from "./format.js";
import { bodyOf } from "./line-parts.js";
import { layOutRows } from "./row-layout.js";

/** How many systems are formatted, and how many have their bar lines below each other, formatted or not. */
export interface InLine {
  readonly formatted: number;
  readonly straight: number;
}

/** Whether rows that stood in line in the chart no longer do so in its new text. */
export function isOutOfLine(before: Tree, text: string): boolean {
  if (text === before.text) return false;
  const was = inLine(before);
  const is = inLine(reparse(before, text));
  return is.formatted < was.formatted || is.straight < was.straight;
}

/** What stands in line in a chart. Where either number falls, a change of the text moved rows out of line. */
export function inLine(tree: Tree): InLine {
  let formatted = 0;
  let straight = 0;
  for (const lines of systemsOf(tree)) {
    if (lines.length < 2) continue;
    if (layOutRows(lines)?.every((text, i) => text === bodyOf(lines[i] as Line)) === true) formatted++;
    if (isStraight(lines)) straight++;
  }
  return { formatted, straight };
}

/** Whether the bar lines of a system stand below each other. */
export function isStraight(lines: readonly Line[]): boolean {
  const columns: number[] = [];
  return lines.every((line) =>
    barLineColumns(line).every((column, i) => {
      columns[i] ??= column;
      return columns[i] === column;
    }),
  );
}

/** Where the strokes of a row's bar lines stand. */
function barLineColumns(line: Line): readonly number[] {
  const { statement } = line;
  if (statement.kind !== "row") return [];
  const strokes: number[] = [];
  for (const { open, close } of statement.bars)
    for (const barLine of [open, close])
      if (barLine !== undefined) strokes.push(barLine.span.start + (barLine.ends ? 1 : 0));
  return strokes.map((at) => columnsOf(line.text.slice(0, at)));
}
