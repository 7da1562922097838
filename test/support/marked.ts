import type { Span } from "../../server/src/text/span.js";
import { chartText } from "./edit-chart.js";

/** A chart's text without its marks, and what they mark. */
export interface Marked {
  readonly text: string;
  /** Where `‸` stood, in UTF-16 units of `text`; of several the first. */
  readonly cursor?: number;
  /** What stood between `⟦` and `⟧`; of several the first. */
  readonly span?: Span;
  readonly cursors: readonly number[];
  readonly spans: readonly Span[];
}

/**
 * Reads a chart with marks in its text: `‸` is the cursor, `⟦…⟧` a selection (`|` is a bar line and can't be a mark).
 * The indentation of the first line is taken from all lines. A mark that is missing is `undefined`.
 */
export function marked(chart: string): Marked {
  const cursors: number[] = [];
  const spans: Span[] = [];
  const open: number[] = [];
  let text = "";
  for (const character of chartText(chart)) {
    if (character === "‸") cursors.push(text.length);
    else if (character === "⟦") open.push(text.length);
    else if (character === "⟧") {
      const start = open.pop();
      if (start === undefined) throw new Error("⟧ without ⟦");
      spans.push({ start, end: text.length });
    } else text += character;
  }
  if (open.length > 0) throw new Error("⟦ without ⟧");
  const [cursor] = cursors;
  const [span] = spans;
  return {
    text,
    ...(cursor === undefined ? {} : { cursor }),
    ...(span === undefined ? {} : { span }),
    cursors,
    spans,
  };
}

/** The cursor of a chart that must have one. */
export function atCursor(chart: string): { readonly text: string; readonly cursor: number } {
  const { text, cursor } = marked(chart);
  if (cursor === undefined) throw new Error(`no ‸ in:\n${chart}`);
  return { text, cursor };
}
