/** A place in a text as people count it here: line and column from 0, columns in UTF-16 units. */
export interface Position {
  readonly line: number;
  readonly column: number;
}

/**
 * Cuts a text into its lines, each with its own line end (LF, CRLF or a lone CR; the last may have none).
 * `"a\r\nb"` gives `["a\r\n", "b"]`; joined, the lines give the text again.
 */
export function splitLines(text: string): string[] {
  const lines: string[] = [];
  const hasReturns = text.includes("\r");
  const add = (piece: string): void => {
    if (hasReturns) cutAtReturns(piece, lines);
    else lines.push(piece);
  };
  let start = 0;
  for (let at = text.indexOf("\n"); at >= 0; at = text.indexOf("\n", start)) {
    add(text.slice(start, at + 1));
    start = at + 1;
  }
  if (start < text.length || lines.length === 0) add(text.slice(start));
  return lines;
}

/** Cuts after every CR that no LF follows. */
function cutAtReturns(piece: string, lines: string[]): void {
  let start = 0;
  for (let at = piece.indexOf("\r"); at >= 0; at = piece.indexOf("\r", at + 1)) {
    if (piece[at + 1] === "\n") continue;
    lines.push(piece.slice(start, at + 1));
    start = at + 1;
  }
  if (start < piece.length || piece === "") lines.push(piece.slice(start));
}

/** Where each line starts, from the lines themselves: `["a\n", "b"]` gives `[0, 2]`. */
export function lineStarts(lines: readonly string[]): number[] {
  const starts = new Array<number>(lines.length);
  let at = 0;
  for (let i = 0; i < lines.length; i++) {
    starts[i] = at;
    at += (lines[i] as string).length;
  }
  return starts;
}

/** The last index of `starts` (ascending, first 0) whose value is at most `offset`. */
export function indexAt(starts: readonly number[], offset: number): number {
  let low = 0;
  let high = starts.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if ((starts[middle] as number) <= offset) low = middle;
    else high = middle - 1;
  }
  return low;
}

/** Line and column of an offset, given where the lines start. */
export function positionAt(starts: readonly number[], offset: number): Position {
  const line = indexAt(starts, offset);
  return { line, column: offset - (starts[line] ?? 0) };
}
