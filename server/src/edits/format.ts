import { isUnread } from "../problems/unread.js";
import type { Line, Statement, Tree } from "../syntax/tree.js";
import { padTo } from "../text/columns.js";
import type { Edit } from "../text/edits.js";
import { indexAt } from "../text/lines.js";
import { type Span, sliceOf } from "../text/span.js";
import { bodyOf, oneSpace, partComment, valueColumn, withComment } from "./line-parts.js";
import { respace } from "./respace.js";
import { layOutRows } from "./row-layout.js";

/**
 * Lines up bars and slots across the rows of each system, and the values of the other lines in one column. Only
 * spaces change. A system with a line that can't be read is left alone. With `range`, only the systems and lines
 * that it touches.
 */
export function format(tree: Tree, range?: Span): Edit[] {
  const edits: Edit[] = [];
  const put = (index: number, text: string): void => {
    respace(bodyOf(tree.lines[index] as Line), text, tree.starts[index] as number, edits);
  };
  const touched = range === undefined ? { start: 0, end: tree.lines.length } : linesOf(tree, range);
  for (const block of blocksOf(tree.lines, systemsAround(tree.lines, touched))) {
    if (!block.lines.some((index) => touched.start <= index && index < touched.end)) continue;
    if (block.rows) {
      const texts = layOutRows(block.lines.map((index) => tree.lines[index] as Line));
      texts?.forEach((text, i) => {
        put(block.lines[i] as number, text);
      });
    } else for (const index of block.lines) put(index, layOutLine(tree.lines[index] as Line, block.alone));
  }
  return edits;
}

/** The lines that have a character of the range, or its empty place; a line end is the last character of its line. */
const linesOf = ({ starts }: Tree, { start, end }: Span): Span => ({
  start: indexAt(starts, start),
  end: indexAt(starts, Math.max(start, end - 1)) + 1,
});

/** These lines with all that may stand in a system with them: rows, comments and what can't be read. */
function systemsAround(lines: readonly Line[], { start, end }: Span): Span {
  const mayBelong = (index: number): boolean => {
    const kind = lines[index]?.statement.kind;
    return kind === "row" || kind === "comment" || kind === "unread";
  };
  let [first, after] = [start, end];
  while (mayBelong(first - 1)) first--;
  while (mayBelong(after)) after++;
  return { start: first, end: after };
}

/** The lines of each system that can be read. */
export const systemsOf = ({ lines }: Tree): readonly (readonly Line[])[] =>
  blocksOf(lines, { start: 0, end: lines.length })
    .filter(({ rows }) => rows)
    .map((block) => block.lines.map((index) => lines[index] as Line));

/** Lines that are laid out together: the rows of a system, or one other line. */
interface Block {
  readonly lines: readonly number[];
  readonly rows: boolean;
  /** Nothing but a blank line stands above and below it. */
  readonly alone: boolean;
}

/** What to lay out of these lines; systems and lines that can't be read are left out. */
function blocksOf(lines: readonly Line[], { start, end }: Span): Block[] {
  const blocks: Block[] = [];
  let rows: number[] = [];
  let names = new Set<string>();
  let readable = true;
  const close = (): void => {
    if (rows.length > 0 && readable) blocks.push({ lines: rows, rows: true, alone: false });
    rows = [];
    names = new Set();
    readable = true;
  };
  for (let index = start; index < end; index++) {
    const line = lines[index] as Line;
    const { statement } = line;
    switch (statement.kind) {
      case "comment":
        blocks.push({ lines: [index], rows: false, alone: false });
        break;
      case "unread":
        // Perhaps a row with a slip in its name: the rows around it wait for it.
        readable = false;
        break;
      case "row":
        if (statement.row !== "words" && names.has(statement.row)) close();
        names.add(statement.row);
        rows.push(index);
        readable &&= isReadable(line);
        break;
      default:
        close();
        if (isReadable(line)) {
          const alone = isGap(lines, index, -1) && isGap(lines, index, 1);
          blocks.push({ lines: [index], rows: false, alone });
        }
    }
  }
  close();
  return blocks;
}

const isReadable = ({ problems }: Line): boolean => !problems.some(isUnread);

/** Whether the next line in this direction that isn't a comment is blank, or there is none. */
function isGap(lines: readonly Line[], from: number, by: 1 | -1): boolean {
  let at = from + by;
  while (lines[at]?.statement.kind === "comment") at += by;
  const kind: Statement["kind"] = lines[at]?.statement.kind ?? "blank";
  return kind === "blank";
}

function layOutLine(line: Line, alone: boolean): string {
  const { said, comment } = partComment(line);
  switch (line.statement.kind) {
    case "blank":
      return "";
    case "comment":
      return said + sliceOf(bodyOf(line), { start: said.length, end: bodyOf(line).indexOf(";") }) + comment;
    default: {
      const [, word = "", value = ""] = /^[ \t]*([^ \t]*)[ \t]*(.*)$/s.exec(said) ?? [];
      if (value === "") return withComment(word, comment);
      const column = alone ? 0 : valueColumn;
      return withComment(padTo(`${word} `, column) + spaceValue(value, line.statement), comment);
    }
  }
}

/** The value with single spaces between its words; what is printed or named keeps its own. */
function spaceValue(value: string, { kind }: Statement): string {
  switch (kind) {
    case "text":
    case "section":
    case "use":
      return value;
    case "form":
    case "play":
      return value.replace(/"[^"]*"|[ \t]+/g, (found) => (found.startsWith('"') ? found : " "));
    default:
      return oneSpace(value);
  }
}
