import { touchedBetween } from "../features/hold-back.js";
import { splitLines } from "../text/lines.js";
import type { Span } from "../text/span.js";

/** A place as the protocol has it: line and UTF-16 column from 0. */
export interface Place {
  readonly line: number;
  readonly character: number;
}

/**
 * A text that is typed in, kept by its lines: a change costs its own lines, and the whole is put together only when
 * it is asked for, once after a burst of changes.
 */
export interface TypedText {
  readonly whole: () => string;
  /** Where the last change stands in the text after it; `undefined` before any. */
  readonly lastChange: () => Span | undefined;
  /** Puts `text` in place of a stretch. */
  readonly change: (start: Place, end: Place, text: string) => void;
  readonly replace: (text: string) => void;
}

const lineEnd = /(?:\r\n|\n|\r)$/;

export function typedText(start: string): TypedText {
  let lines = splitLines(start);
  let whole: string | undefined = start;
  let last: Span | undefined;
  /** The last change, while nobody has asked where it stands: so many characters behind a line's start. */
  let pending: { readonly line: number; readonly column: number; readonly length: number } | undefined;

  /** As the protocol has it, a column behind the line's end is its end; a line behind the last is the text's end. */
  function clamped({ line, character }: Place): Place {
    const found = lines[line];
    if (found === undefined) {
      const end = lines.length - 1;
      return { line: end, character: (lines[end] as string).length };
    }
    // A line end has at most two characters.
    if (character <= found.length - 2) return { line, character };
    return { line, character: Math.min(character, found.replace(lineEnd, "").length) };
  }

  const allText = (): string => {
    whole ??= lines.join("");
    return whole;
  };

  return {
    whole: allText,
    lastChange() {
      if (pending === undefined) return last;
      const { line, column, length } = pending;
      let at = column;
      for (let i = 0; i < line; i++) at += (lines[i] as string).length;
      pending = undefined;
      last = { start: at, end: at + length };
      return last;
    },
    change(from, to, text) {
      const [a, b] = [clamped(from), clamped(to)];
      const isInOrder = a.line < b.line || (a.line === b.line && a.character <= b.character);
      const [first, end] = isInOrder ? [a, b] : [b, a];
      // A CR that ends the line before would take a LF that comes behind it now.
      const above = first.character === 0 && first.line > 0 ? (lines[first.line - 1] as string) : "";
      const joined = above.endsWith("\r") ? above : "";
      const top = joined === "" ? first.line : first.line - 1;
      const head = joined + (lines[first.line] as string).slice(0, first.character);
      const middle = splitLines(head + text + (lines[end.line] as string).slice(end.character));
      lines.splice(top, end.line - top + 1, ...middle);
      whole = undefined;
      pending = { line: top, column: head.length, length: text.length };
    },
    replace(text) {
      pending = undefined;
      last = touchedBetween(allText(), text);
      lines = splitLines(text);
      whole = text;
    },
  };
}
