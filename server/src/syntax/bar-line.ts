import type { IToken } from "chevrotain";
import type { Span } from "../text/span.js";
import { cut } from "./cut.js";
import type { BarLine, EndingText } from "./tree.js";

/** Takes a mistake: its place, what was read, and what to do. */
export type Report = (span: Span, read: string, advice: string) => void;

/** A bar line piece: the line itself, the count of its repeat, and the ending after it. */
export interface BarPiece {
  readonly line: BarLine;
  /** Where the bar after it starts: after the line and its count. */
  readonly end: number;
  readonly ending: EndingText | undefined;
}

const lineAt = (start: number, image: string): BarLine => ({
  span: { start, end: start + image.length },
  double: image.indexOf("|") !== image.lastIndexOf("|"),
  starts: image.endsWith(":"),
  ends: image.startsWith(":"),
  times: image.startsWith(":") ? 2 : 1,
  timesSpan: undefined,
});

/** Plain bar lines by their place in the line: nearly all are, and the rows of a chart have them at the same places. */
const plain: BarPiece[] = [];
const mostPlain = 256;

function plainAt(start: number): BarPiece {
  const known = plain[start];
  if (known !== undefined) return known;
  const made = { line: lineAt(start, "|"), end: start + 1, ending: undefined };
  if (start < mostPlain) plain[start] = made;
  return made;
}

/** Reads a bar line with what belongs to it. */
export function readBarLine(token: IToken, report: Report): BarPiece {
  const start = token.startOffset;
  if (token.image === "|") return plainAt(start);
  let line = lineAt(start, token.image);
  let end = start + token.image.length;
  let ending: EndingText | undefined;
  for (const { name, start: at, text } of cut("barLine", token.image)) {
    const span = { start: start + at, end: start + at + text.length };
    if (name === "barLine") {
      line = lineAt(start, text);
      end = span.end;
    } else if (name === "times") {
      end = span.end;
      const times = Number(text.slice(1));
      const isRight = times >= 1 && times <= 99;
      line = { ...line, times: isRight ? times : 2, timesSpan: span };
      if (!isRight) report(span, text, "A repeat is played 1 to 99 times.");
    } else if (name === "ending") {
      ending = { number: text === "1." ? 1 : 2, span };
    }
  }
  return { line, end, ending };
}
