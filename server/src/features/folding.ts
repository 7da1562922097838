import type { SectionSource } from "../chart/model.js";
import type { Document } from "../document/document.js";
import type { Line, Statement } from "../syntax/tree.js";

/** Lines that fold away under the first of them. */
export interface Fold {
  /** Lines from 0, the last included; at least two. */
  readonly firstLine: number;
  readonly lastLine: number;
  readonly kind: "header" | "section" | "system" | "comment";
}

/** What folds: the header, each section, each system of several rows, comments of several lines. In order of first lines. */
export function folding({ outline }: Document): readonly Fold[] {
  const { header, sections } = outline;
  const folds: Fold[] = [];
  const first = header.findIndex(isSaid);
  if (first >= 0) add(folds, first, lastSaid(header, 0, header.length), "header");
  innerFolds(header, 0, folds);
  for (const [i, { source, firstLine }] of sections.entries()) {
    const isLast = i === sections.length - 1;
    const end = isLast ? source.lines.length : withoutHeading(source);
    add(folds, firstLine, firstLine + lastSaid(source.lines, 0, end), "section");
    const inner: Fold[] = [];
    innerFolds(source.lines, firstLine, inner);
    // A line folds one thing: of a section without a name its first system stays open.
    folds.push(...inner.filter((it) => it.firstLine !== firstLine));
  }
  return folds.sort(byLines);
}

/** The wider one first. */
const byLines = (a: Fold, b: Fold): number => a.firstLine - b.firstLine || b.lastLine - a.lastLine;

const isBlank = ({ statement }: Line): boolean => statement.kind === "blank";
const isSaid = (line: Line): boolean => line.statement.kind !== "blank" && line.statement.kind !== "comment";

function add(folds: Fold[], firstLine: number, lastLine: number, kind: Fold["kind"]): void {
  if (lastLine > firstLine) folds.push({ firstLine, lastLine, kind });
}

/** The last line before `end` that isn't blank; `from` where all are. */
function lastSaid(lines: readonly Line[], from: number, end: number): number {
  let last = end - 1;
  while (last > from && isBlank(lines[last] as Line)) last--;
  return Math.max(last, from);
}

/** Where a section ends without the comments that stand, after a blank line, right above the next one: they are of that one. */
function withoutHeading({ lines }: SectionSource): number {
  let at = lines.length;
  while (at > 1 && lines[at - 1]?.statement.kind === "comment") at--;
  const before = lines[at - 1];
  return at > 1 && before !== undefined && isBlank(before) ? at : lines.length;
}

/** Systems and comments. `offset` is the first line's index in the chart. */
function innerFolds(lines: readonly Line[], offset: number, folds: Fold[]): void {
  let system: number | undefined;
  let lastRow = 0;
  let comment: number | undefined;
  let names = new Set<string>();
  const closeSystem = (): void => {
    if (system !== undefined) add(folds, offset + system, offset + lastRow, "system");
    system = undefined;
    names = new Set();
  };
  const closeComment = (end: number): void => {
    if (comment !== undefined && system === undefined)
      add(folds, offset + comment, offset + end - 1, "comment");
    comment = undefined;
  };
  lines.forEach(({ statement }, i) => {
    if (statement.kind === "comment") {
      comment ??= i;
      return;
    }
    closeComment(i);
    if (statement.kind !== "row") {
      if (!mayStandInSystem(statement)) closeSystem();
      return;
    }
    if (statement.row !== "words" && names.has(statement.row)) closeSystem();
    names.add(statement.row);
    system ??= i;
    lastRow = i;
  });
  closeComment(lines.length);
  closeSystem();
}

/** A line that can't be read may be a row with a slip in its name. */
const mayStandInSystem = ({ kind }: Statement): boolean => kind === "unread";
