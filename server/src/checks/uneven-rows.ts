import { lineShape } from "../chart/line-shape.js";
import type { SystemRow } from "../chart/model.js";
import type { Fix } from "../problems/problem.js";
import type { BarLine, BarText, RowLine } from "../syntax/tree.js";
import { type Edit, shiftEdit } from "../text/edits.js";
import { type Span, shift } from "../text/span.js";
import type { SectionCheck } from "./check.js";

/** Rows of a system with another number of bars than most, or with other repeats and endings than its first row. */
export const unevenRows: SectionCheck<"uneven-rows"> = {
  code: "uneven-rows",
  run({ section }, report) {
    const { text } = section.source;
    for (const { rows } of section.systems) {
      const first = rows[0] as SystemRow;
      const count = barsIn(first);
      if (count > 0 && rows.every((it) => barsIn(it) === count && lineShape(it.line).isPlain)) continue;
      const usual = usualCount(rows);
      const usualRows = rows.filter((it) => barsIn(it) === usual);
      for (const it of rows) {
        const { row, line, start } = it;
        const bars = barsIn(it);
        // A row without any bar is the parser's to report.
        if (bars === 0) continue;
        if (bars !== usual) {
          const others = [...new Set(usualRows.map((other) => other.row))];
          const compared = usualRows.find((other) => other.row === "chords") ?? (usualRows[0] as SystemRow);
          const related = [
            { span: shift(compared.line.nameSpan, compared.start), message: `This row has ${usual}.` },
          ];
          const fixes =
            bars < usual ? [addBars([it], usual)] : [...takeBars(it, usual, text), addBars(rows, bars)];
          report(
            shift(line.nameSpan, start),
            { kind: "count", row, bars, others, usual },
            { row, related, fixes },
          );
          continue;
        }
        // Where the first row has other bars, its signs stand elsewhere.
        if (barsIn(first) !== usual) continue;
        const differing = differingSign(line, first.line);
        if (differing === undefined) continue;
        const { sign, inFirst, span, edit } = differing;
        const title = edit.text === "" ? `Take ${sign} away` : `Write ${edit.text}`;
        // A colon right behind would join what is written, and be a sign again.
        const isJoined = text[edit.span.end + start] === ":";
        const fixes = isJoined ? [] : [{ title, edits: [shiftEdit(edit, start)], silent: false }];
        report(shift(span, start), { kind: "sign", sign, inFirst, firstRow: first.row }, { row, fixes });
      }
    }
  },
};

const barsIn = ({ line }: SystemRow): number => line.bars.length;

/**
 * How many bars most rows of a system have; of several such counts that of the chords, else the highest. Verses have
 * one voice together: three that stop early don't outvote the melody.
 */
function usualCount(rows: readonly SystemRow[]): number {
  const verse = rows.find(({ row }) => row === "words");
  const voices = rows.filter((it) => barsIn(it) > 0 && (it.row !== "words" || it === verse));
  const votes = new Map<number, number>();
  for (const it of voices) votes.set(barsIn(it), (votes.get(barsIn(it)) ?? 0) + 1);
  const most = Math.max(...votes.values());
  const counts = [...votes.keys()].filter((count) => votes.get(count) === most);
  const chords = voices.find(({ row }) => row === "chords");
  return chords !== undefined && counts.includes(barsIn(chords)) ? barsIn(chords) : Math.max(...counts);
}

/** Gives each row that has fewer bars than this empty ones at its end. */
function addBars(rows: readonly SystemRow[], wanted: number): Fix {
  const short = rows.filter((it) => barsIn(it) > 0 && barsIn(it) < wanted);
  const missing = Math.max(...short.map((it) => wanted - barsIn(it)));
  const title = missing === 1 ? "Add an empty bar" : `Add ${missing} empty bars`;
  const where = short.length === 1 ? (short[0] as SystemRow).row : "the other rows";
  const edits = short.map(({ line, start }) => shiftEdit(addedTo(line, wanted - line.bars.length), start));
  return { title: rows.length === 1 ? title : `${title} to ${where}`, edits, silent: false };
}

/** Takes the bars behind the usual last one away, where nothing stands in them. */
function takeBars({ line, start }: SystemRow, usual: number, text: string): readonly Fix[] {
  const extra = line.bars.slice(usual);
  const [before, last] = [extra[0]?.open, extra.at(-1)?.close];
  if (before === undefined || last === undefined || (last.double && !before.double)) return [];
  const isEmpty = extra.every(
    ({ slots, ending, open, close }) =>
      slots.length === 0 && ending === undefined && !open.starts && close?.ends !== true,
  );
  const span = shift({ start: endOf(before), end: endOf(last) }, start);
  // What stood right behind would join the bar line that stays.
  if (!isEmpty || last.starts || /[^\s;]/.test(text[span.end] ?? "")) return [];
  const title = extra.length === 1 ? "Take the empty bar away" : `Take the ${extra.length} empty bars away`;
  return [{ title, edits: [{ span, text: "" }], silent: false }];
}

/** Closes the last bar where it is open, and writes empty ones after it. */
function addedTo({ bars }: RowLine, missing: number): Edit {
  const { open, close, ending, slots } = bars[bars.length - 1] as BarText;
  const end =
    close === undefined ? (slots.at(-1)?.span.end ?? ending?.span.end ?? endOf(open)) : endOf(close);
  return { span: { start: end, end }, text: (close === undefined ? " |" : "") + "   |".repeat(missing) };
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
