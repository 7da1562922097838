import type { Span } from "../../server/src/text/span.js";

/** A text with these spans marked by `⟦…⟧`; spans may lie in each other. The opposite of `marked`. */
export function withSpans(text: string, spans: readonly Span[]): string {
  const opens = new Map<number, number>();
  const closes = new Map<number, number>();
  const empty = new Map<number, number>();
  const add = (to: Map<number, number>, at: number): void => void to.set(at, (to.get(at) ?? 0) + 1);
  for (const { start, end } of spans) {
    if (start === end) add(empty, start);
    else {
      add(opens, start);
      add(closes, end);
    }
  }
  let shown = "";
  for (let at = 0; at <= text.length; at++) {
    shown += "⟧".repeat(closes.get(at) ?? 0) + "⟦⟧".repeat(empty.get(at) ?? 0);
    shown += "⟦".repeat(opens.get(at) ?? 0) + (text[at] ?? "");
  }
  return shown;
}

/** The lines of a text in which something is marked. */
export const markedLines = (text: string): readonly string[] =>
  text.split("\n").filter((line) => /[⟦⟧]/.test(line));
