import type { SystemRow } from "../chart/model.js";
import type { Fix } from "../problems/problem.js";
import type { BarLine, BarText, RowLine } from "../syntax/tree.js";
import { type Edit, shiftEdit } from "../text/edits.js";
import { type Span, shift } from "../text/span.js";
import type { SectionCheck } from "./check.js";

/** Rows of a system that stop early, or whose repeats and endings aren't those of its first row. */
export const unevenRows: SectionCheck<"uneven-rows"> = {
  code: "uneven-rows",
  run({ section }, report) {
    for (const { rows } of section.systems) {
      const first = rows[0] as SystemRow;
      const longest = rows.reduce((most, it) => (barsIn(it) > barsIn(most) ? it : most));
      for (const it of rows) {
        const { row, line, start } = it;
        // A row without any bar is the parser's to report.
        if (barsIn(it) === 0) continue;
        if (barsIn(it) < barsIn(longest)) {
          const facts = { bars: barsIn(it), longest: barsIn(longest), longestRow: longest.row };
          const related = [
            { span: shift(longest.line.nameSpan, longest.start), message: `This row has ${facts.longest}.` },
          ];
          const fixes = [addBars(line, start, facts.longest - facts.bars)];
          report(shift(line.nameSpan, start), { kind: "short", ...facts }, { row, related, fixes });
          continue;
        }
        const differing = differingSign(line, first.line);
        if (differing === undefined) continue;
        const { sign, inFirst, span, edit } = differing;
        const title = edit.text === "" ? `Take ${sign} away` : `Write ${edit.text}`;
        // A colon right behind would join what is written, and be a sign again.
        const isJoined = section.source.text[edit.span.end + start] === ":";
        const fixes = isJoined ? [] : [{ title, edits: [shiftEdit(edit, start)], silent: false }];
        report(shift(span, start), { kind: "sign", sign, inFirst, firstRow: first.row }, { row, fixes });
      }
    }
  },
};

const barsIn = ({ line }: SystemRow): number => line.bars.length;

/** Closes the last bar where it is open, and writes empty ones after it. */
function addBars({ bars }: RowLine, lineStart: number, missing: number): Fix {
  const { open, close, ending, slots } = bars[bars.length - 1] as BarText;
  const end =
    close === undefined ? (slots.at(-1)?.span.end ?? ending?.span.end ?? endOf(open)) : endOf(close);
  const text = (close === undefined ? " |" : "") + "   |".repeat(missing);
  const title = missing === 1 ? "Add an empty bar" : `Add ${missing} empty bars`;
  return { title, edits: [shiftEdit({ span: { start: end, end }, text }, lineStart)], silent: false };
}

/** A sign of repetition as this row has it, and as the first row has it there: "" for none. */
interface Differing {
  readonly sign: string;
  readonly inFirst: string;
  readonly span: Span;
  readonly edit: Edit;
}

/** The first sign of a row that the first row of its system doesn't have there. */
function differingSign({ bars }: RowLine, first: RowLine): Differing | undefined {
  if (first.bars === bars) return undefined;
  for (let i = 0; i < bars.length; i++) {
    const { open, ending, close } = bars[i] as BarText;
    const there = first.bars[i];
    if (open.starts && there?.open.starts !== true) {
      return differingLine("|:", "", open, there?.open ?? first.bars[i - 1]?.close);
    }
    if (ending !== undefined && ending.number !== there?.ending?.number) {
      const inFirst = there?.ending === undefined ? "" : `${there.ending.number}.`;
      const { span } = ending;
      return { sign: `${ending.number}.`, inFirst, span, edit: { span, text: inFirst } };
    }
    if (close?.ends !== true) continue;
    const isOtherCount = close.timesSpan !== undefined && close.times !== there?.close?.times;
    if (there?.close?.ends === true && !isOtherCount) continue;
    const inFirst = there?.close?.ends === true ? endSign(there.close) : "";
    return differingLine(endSign(close), inFirst, close, there?.close);
  }
  return undefined;
}

/** What both bar lines have is kept. */
function differingLine(sign: string, inFirst: string, own: BarLine, there: BarLine | undefined): Differing {
  const ends = own.ends && there?.ends === true;
  const starts = own.starts && there?.starts === true;
  const text = `${ends ? ":" : ""}${own.double ? "||" : "|"}${starts ? ":" : ""}${ends ? countOf(there) : ""}`;
  const span = { start: own.span.start, end: endOf(own) };
  return { sign, inFirst, span, edit: { span, text } };
}

const endSign = (line: BarLine): string => `:|${countOf(line)}`;
const countOf = ({ times, timesSpan }: BarLine): string => (timesSpan === undefined ? "" : `x${times}`);
const endOf = ({ span, timesSpan }: BarLine): number => timesSpan?.end ?? span.end;
