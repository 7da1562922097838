import type { Document } from "../document/document.js";
import { bodyOf, partComment, withComment } from "../edits/line-parts.js";
import { layOutRows } from "../edits/row-layout.js";
import { parse } from "../syntax/parse.js";
import type { Line } from "../syntax/tree.js";
import type { Edit } from "../text/edits.js";
import { barsText, chordBars } from "./chord-bars.js";

/**
 * The edit that makes a row of chords, one a bar, of a line that holds nothing but chords (`C G/B Am F`), or of a
 * `chords` row without bar lines. Bar lines that are there stay. `undefined` for any other line.
 */
export function barsFromChords({ tree }: Document, lineIndex: number): Edit | undefined {
  const line = tree.lines[lineIndex];
  const start = tree.starts[lineIndex];
  if (line === undefined || start === undefined) return undefined;
  const { statement } = line;
  const { said, comment } = partComment(line);
  const indent = /^[ \t]*/.exec(said)?.[0] ?? "";
  const isRow = statement.kind === "row" && statement.row === "chords" && statement.bars.length === 0;
  if (!isRow && statement.kind !== "unread") return undefined;
  const bars = chordBars(isRow ? said.slice(statement.nameSpan.end) : said);
  if (bars === undefined) return undefined;
  const row = chordsRow(bars.map(({ text }) => text));
  const body = bodyOf(line);
  return { span: { start, end: start + body.length }, text: withComment(indent + row, comment) };
}

/** A row of chords with these bars, laid out. */
export function chordsRow(bars: readonly string[]): string {
  const row = `chords ${barsText(bars)}`;
  return layOutRows([parse(row).lines[0] as Line])?.[0] ?? row;
}
