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

/** Reads a bar line with what belongs to it. */
export function readBarLine(token: IToken, report: Report): BarPiece {
  const start = token.startOffset;
  const plain = (end: number, image: string): BarLine => ({
    span: { start, end },
    double: image.indexOf("|") !== image.lastIndexOf("|"),
    starts: image.endsWith(":"),
    ends: image.startsWith(":"),
    times: image.startsWith(":") ? 2 : 1,
    timesSpan: undefined,
  });
  if (token.image === "|") return { line: plain(start + 1, "|"), end: start + 1, ending: undefined };
  let line = plain(start + token.image.length, token.image);
  let end = start + token.image.length;
  let ending: EndingText | undefined;
  for (const { name, start: at, text } of cut("barLine", token.image)) {
    const span = { start: start + at, end: start + at + text.length };
    if (name === "barLine") {
      line = plain(span.end, text);
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
