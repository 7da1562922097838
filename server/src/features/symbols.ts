import type { Header, PlacedSection } from "../chart/model.js";
import type { Document } from "../document/document.js";
import { type Span, shift } from "../text/span.js";
import { prettyKey } from "../theory/key.js";
import { nameSpanOf } from "./section-uses.js";

/** The song or one of its sections, for an outline of the chart. */
export interface ChartSymbol {
  readonly name: string;
  readonly kind: "title" | "section";
  /** The key, and of a section how many bars it has; of the song its meter and tempo. */
  readonly detail: string;
  /** All of its text. */
  readonly span: Span;
  /** Its name, inside `span`. */
  readonly nameSpan: Span;
}

export interface ChartSymbols {
  readonly symbols: readonly ChartSymbol[];
  /** How many there are beyond `max`. */
  readonly left: number;
}

/** The song's title and its sections in the order of the text, at most `max` of them. */
export function symbols(document: Document, max: number): ChartSymbols {
  const { outline, chart } = document;
  const title = titleOf(document);
  const most = Math.max(0, Math.trunc(max) || 0);
  const count = outline.sections.length + (title === undefined ? 0 : 1);
  const found: ChartSymbol[] = title === undefined || most === 0 ? [] : [title];
  for (let i = 0; found.length < most && i < outline.sections.length; i++) {
    found.push(sectionSymbol(chart.sections[i] as PlacedSection));
  }
  return { symbols: found, left: count - found.length };
}

function titleOf({ outline: { header, headerStarts }, chart }: Document): ChartSymbol | undefined {
  for (const [i, line] of header.entries()) {
    const { statement } = line;
    if (statement.kind !== "text" || statement.word !== "title" || statement.value === "") continue;
    const start = headerStarts[i] ?? 0;
    const nameSpan = shift(statement.span, start);
    const span = { start, end: nameSpan.end };
    return { name: statement.value, kind: "title", detail: detailOf(chart.header), span, nameSpan };
  }
  return undefined;
}

const detailOf = ({ home, meter, tempo }: Header): string =>
  [
    prettyKey(home.key),
    `${meter.beats}/${meter.unit}`,
    ...(tempo === undefined ? [] : [`tempo ${tempo}`]),
  ].join(", ");

function sectionSymbol(placed: PlacedSection): ChartSymbol {
  const { section, offset } = placed;
  const { name, source, start, bars } = section;
  const count = bars.length === 1 ? "1 bar" : `${bars.length} bars`;
  return {
    name: name === "" ? "No name" : name,
    kind: "section",
    detail: `${prettyKey(start.key)}, ${count}`,
    span: { start: offset, end: Math.max(nameSpanOf(placed).end, offset + source.text.trimEnd().length) },
    nameSpan: nameSpanOf(placed),
  };
}
