import type { Line, RowLine, Slot, Statement, Tree } from "../syntax/tree.js";
import { columnsOf, padTo } from "../text/columns.js";
import type { Edit } from "../text/edits.js";
import { type Span, sliceOf } from "../text/span.js";
import { respace } from "./respace.js";

/** Where what follows a line's first word starts: one space after the longest of them, `section`. */
const valueColumn = 8;
/** Stands before a comment that ends a line. */
const commentGap = "  ";
/** In these rows a bar holds words, which are not lined up with the slots of other rows. */
const wordRows: ReadonlySet<string> = new Set(["words", "cue"]);
/** The codes of what the parser can't read. */
const unreadCodes: ReadonlySet<string> = new Set(["syntax", "unknown-word", "unknown-chord", "unknown-tone"]);

/**
 * Lines up bars and slots across the rows of each system, and the values of the other lines in one column. Only
 * spaces change. A system with a line that can't be read is left alone. With `range`, only the systems and lines
 * that it touches.
 */
export function format(tree: Tree, range?: Span): Edit[] {
  const edits: Edit[] = [];
  const put = (index: number, text: string): void => {
    edits.push(...respace(bodyOf(tree.lines[index] as Line), text, tree.starts[index] as number));
  };
  for (const block of blocksOf(tree.lines)) {
    if (range !== undefined && !touches(tree, block.lines, range)) continue;
    if (block.rows) {
      const rows = block.lines.map((index) => readRow(tree.lines[index] as Line));
      if (rows.every((row) => row !== undefined)) {
        const texts = layOutRows(rows);
        block.lines.forEach((index, i) => {
          put(index, texts[i] as string);
        });
      }
    } else for (const index of block.lines) put(index, layOutLine(tree.lines[index] as Line, block.alone));
  }
  return edits;
}

/** Lines that are laid out together: the rows of a system, or one other line. */
interface Block {
  readonly lines: readonly number[];
  readonly rows: boolean;
  /** Nothing but a blank line stands above and below it. */
  readonly alone: boolean;
}

/** What to lay out; systems and lines that can't be read are left out. */
function blocksOf(lines: readonly Line[]): Block[] {
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
  lines.forEach((line, index) => {
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
  });
  close();
  return blocks;
}

const isReadable = (line: Line): boolean =>
  !line.problems.some(({ code, severity }) => severity === "error" && unreadCodes.has(code));

/** Whether the next line in this direction that isn't a comment is blank, or there is none. */
function isGap(lines: readonly Line[], from: number, by: 1 | -1): boolean {
  let at = from + by;
  while (lines[at]?.statement.kind === "comment") at += by;
  const kind: Statement["kind"] = lines[at]?.statement.kind ?? "blank";
  return kind === "blank";
}

function touches(tree: Tree, lines: readonly number[], range: Span): boolean {
  return lines.some((index) => {
    const start = tree.starts[index] as number;
    return start <= range.end && range.start <= start + (tree.lines[index] as Line).text.length;
  });
}

/** The line without its line end. */
const bodyOf = ({ text }: Line): string => text.replace(/[\r\n]+$/, "");

/** What stands before the comment, and the comment; both without the spaces around them. */
function partComment(line: Line): { readonly said: string; readonly comment: string } {
  const token = line.tokens.findLast(({ kind }) => kind === "comment");
  const body = bodyOf(line);
  if (token === undefined) return { said: trimEnd(body), comment: "" };
  return { said: trimEnd(body.slice(0, token.span.start)), comment: trimEnd(sliceOf(body, token.span)) };
}

const trimEnd = (text: string): string => text.replace(/[ \t]+$/, "");
const oneSpace = (text: string): string => text.replace(/[ \t]+/g, " ");
const withComment = (said: string, comment: string): string =>
  comment === "" ? trimEnd(said) : said + commentGap + comment;

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

/** A row cut at its bar lines. */
interface RowText {
  readonly name: string;
  readonly from: string;
  readonly pickup: readonly string[];
  /** One more than cells where the last bar is closed. */
  readonly barLines: readonly string[];
  readonly cells: readonly Cell[];
  readonly comment: string;
}

interface Cell {
  readonly ending: string;
  readonly slots: readonly string[];
  /** Whether its slots are lined up with those of other rows. */
  readonly aligned: boolean;
}

/** `undefined` where something stands in the row that the tree doesn't account for. */
function readRow(line: Line): RowText | undefined {
  const row = line.statement as RowLine;
  const { said, comment } = partComment(line);
  const aligned = !wordRows.has(row.row);
  const barLines = barLinesOf(row, said);
  const firstBar = barLines[0]?.start ?? said.length;
  const pickup = slotTexts(
    said,
    { start: row.from?.span.end ?? row.nameSpan.end, end: firstBar },
    row.pickup,
  );
  if (pickup === undefined) return undefined;
  const cells: Cell[] = [];
  for (let i = 0; i < row.bars.length; i++) {
    const { ending, slots } = row.bars[i] as RowLine["bars"][number];
    const start = ending?.span.end ?? barLines[i]?.end ?? 0;
    const texts = slotTexts(said, { start, end: barLines[i + 1]?.start ?? said.length }, slots);
    if (texts === undefined) return undefined;
    cells.push({ ending: ending === undefined ? "" : sliceOf(said, ending.span), slots: texts, aligned });
  }
  const last = barLines.at(-1);
  if (last !== undefined && barLines.length > cells.length && trimEnd(said.slice(last.end)) !== "")
    return undefined;
  return {
    name: sliceOf(said, row.nameSpan),
    from: row.from === undefined ? "" : oneSpace(sliceOf(said, row.from.span)),
    pickup,
    barLines: barLines.map((span) => oneSpace(sliceOf(said, span))),
    cells,
    comment,
  };
}

/** Every bar line with the `x3` after it; where two meet without a bar between them they are one. */
function barLinesOf(row: RowLine, said: string): Span[] {
  const spans: Span[] = [];
  row.bars.forEach(({ open, close }, i) => {
    if (i === 0) spans.push({ start: open.span.start, end: open.timesSpan?.end ?? open.span.end });
    else if (spans[i] !== undefined)
      spans[i] = { start: (spans[i] as Span).start, end: Math.max((spans[i] as Span).end, open.span.end) };
    if (close !== undefined)
      spans.push({ start: close.span.start, end: close.timesSpan?.end ?? close.span.end });
  });
  return spans.filter(({ start, end }) => start < end && end <= said.length);
}

/** The texts of the slots of a bar or pickup; those that touch are one. */
function slotTexts(said: string, inside: Span, slots: readonly Slot[]): string[] | undefined {
  const texts: string[] = [];
  let at = inside.start;
  for (const slot of slots) {
    const gap = said.slice(at, slot.span.start);
    if (trimEnd(gap) !== "") return undefined;
    const text = slotText(said, slot);
    if (gap === "" && texts.length > 0) texts.push(texts.pop() + text);
    else texts.push(text);
    at = slot.span.end;
  }
  return trimEnd(said.slice(at, inside.end)) === "" ? texts : undefined;
}

/** A group with single spaces between its slots; any other slot as it is. */
function slotText(said: string, slot: Slot): string {
  if (slot.kind === "leaf") return sliceOf(said, slot.span);
  let text = "";
  let at = slot.span.start;
  for (const inner of slot.slots) {
    text += oneSpace(said.slice(at, inner.span.start)) + slotText(said, inner);
    at = inner.span.end;
  }
  return text + oneSpace(said.slice(at, slot.span.end));
}

/** The rows of a system, one text each. */
function layOutRows(rows: readonly RowText[]): string[] {
  const heads = layOutHeads(rows);
  const parts = rows.map((_, i) => [heads[i] as string]);
  const count = Math.max(...rows.map(({ barLines, cells }) => Math.max(barLines.length, cells.length)));
  for (let k = 0; k < count; k++) {
    const barLines = alignBarLines(rows.map((row) => row.barLines[k]));
    const cells = alignCells(rows.map((row) => row.cells[k]));
    rows.forEach((_, i) => {
      const barLine = barLines[i];
      const cell = cells[i];
      if (barLine !== undefined) parts[i]?.push(barLine);
      if (cell !== undefined) parts[i]?.push(cell === "" ? " " : ` ${cell} `);
    });
  }
  return rows.map(({ comment }, i) => withComment(trimEnd((parts[i] as string[]).join("")), comment));
}

/** Names, `from` and pickups, so that all first bar lines stand below each other. */
function layOutHeads(rows: readonly RowText[]): string[] {
  const froms = widest(rows.map(({ from }) => from));
  const pickups = columnsFromEnd(rows.map(({ pickup }) => pickup));
  return rows.map(({ name, from }, i) => {
    const head = padTo(`${name} `, valueColumn) + (froms === 0 ? "" : `${padTo(from, froms)} `);
    return pickups[i] === undefined ? head : `${head}${pickups[i]} `;
  });
}

const widest = (texts: readonly string[]): number =>
  texts.reduce((most, text) => Math.max(most, columnsOf(text)), 0);

/** Pickups end together on the bar line, so they are lined up from their ends. */
function columnsFromEnd(lists: readonly (readonly string[])[]): (string | undefined)[] {
  const count = Math.max(...lists.map(({ length }) => length));
  if (count === 0) return lists.map(() => undefined);
  const widths = Array.from({ length: count }, (_, back) =>
    widest(lists.map((list) => list.at(-1 - back) ?? "")),
  );
  return lists.map((list) =>
    widths
      .map((width, back) => padTo(list.at(-1 - back) ?? "", width))
      .reverse()
      .join(" "),
  );
}

/** Bar lines of one column with their strokes below each other; `undefined` where a row has none. */
function alignBarLines(barLines: readonly (string | undefined)[]): (string | undefined)[] {
  const stroke = (text: string): number => Math.max(0, text.indexOf("|"));
  const before = barLines.reduce((most, text) => Math.max(most, stroke(text ?? "")), 0);
  const after = barLines.reduce((most, text = "") => Math.max(most, text.length - stroke(text)), 0);
  return barLines.map((text) =>
    text === undefined ? undefined : (" ".repeat(before - stroke(text)) + text).padEnd(before + after),
  );
}

/** The cells of one bar, equally wide; `undefined` where a row has none. */
function alignCells(cells: readonly (Cell | undefined)[]): (string | undefined)[] {
  const endings = widest(cells.map((cell) => cell?.ending ?? ""));
  const widths = new Map<number, number[]>();
  for (const cell of cells) {
    if (cell === undefined || !cell.aligned) continue;
    const before = widths.get(cell.slots.length);
    widths.set(
      cell.slots.length,
      cell.slots.map((slot, i) => Math.max(before?.[i] ?? 0, columnsOf(slot))),
    );
  }
  const texts = cells.map((cell) => {
    if (cell === undefined) return undefined;
    const columns = cell.aligned ? (widths.get(cell.slots.length) ?? []) : [];
    const slots = cell.slots.map((slot, i) => padTo(slot, columns[i] ?? 0)).join(" ");
    return trimEnd(endings === 0 ? slots : `${padTo(cell.ending, endings)} ${slots}`);
  });
  const width = widest(texts.map((text) => text ?? ""));
  return texts.map((text) => (text === undefined ? undefined : padTo(text, width)));
}
