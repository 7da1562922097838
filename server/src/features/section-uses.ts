import { locate } from "../chart/locate.js";
import type { PlacedSection } from "../chart/model.js";
import { sectionWords } from "../checks/section-words.js";
import type { Document } from "../document/document.js";
import type { FormItem } from "../syntax/tree.js";
import { type Span, shift } from "../text/span.js";
import { type Charts, chartAt, type Place } from "./charts.js";

/** A section by what names it among all charts. */
export interface SectionName {
  /** The chart that it is written in. */
  readonly path: string;
  readonly name: string;
}

/** A place where a section's name stands. */
export interface NamedAt {
  /** The name without its quotation marks, from the text's start. */
  readonly span: Span;
  readonly name: string;
  /** Where the name opens a section, that one. */
  readonly opens: PlacedSection | undefined;
  /** What the name means in `form` and `play`; `undefined` where it means no section. */
  readonly section: SectionName | undefined;
}

/** The section name at a place; `undefined` elsewhere. */
export function sectionNamedAt(document: Document, offset: number): NamedAt | undefined {
  const here = locate(document, offset);
  if (here.kind === "section-use") {
    const { item, target, lineStart } = here;
    if (item.name === "") return undefined;
    const section = target && { path: target.path ?? document.path, name: item.name };
    return { span: shift(item.nameSpan, lineStart), name: item.name, opens: undefined, section };
  }
  if (here.kind !== "section" || here.name === "") return undefined;
  const { placed, name } = here;
  const { chart, path } = document;
  // Of several sections of one name the first is played.
  const isPlayed = chart.sections[chart.outline.contents.names.get(name) ?? -1] === placed;
  const section = isPlayed ? { path, name } : undefined;
  return { span: nameSpanOf(placed), name, opens: placed, section };
}

/** Where a section's name stands in its chart; empty, at its first line, where it has none. */
export const nameSpanOf = ({ section, offset }: PlacedSection): Span =>
  shift(section.source.nameSpan ?? { start: 0, end: 0 }, offset);

/** A word of a `form` or `play` line that means a section. */
export interface SectionUse {
  readonly document: Document;
  readonly item: FormItem;
  /** Where its line starts in that chart. */
  readonly lineStart: number;
}

/** Every word of these charts that means the section, in the order of each chart's text. */
export function usesOf({ path, name }: SectionName, documents: readonly Document[]): readonly SectionUse[] {
  return documents.flatMap((document) =>
    sectionWords(document.chart)
      .filter(
        ({ item, target }) =>
          item.name === name && target !== undefined && (target.path ?? document.path) === path,
      )
      .map(({ item, lineStart }) => ({ document, item, lineStart }))
      .sort((a, b) => startOf(a) - startOf(b)),
  );
}

const startOf = ({ item, lineStart }: SectionUse): number => item.nameSpan.start + lineStart;

/** Where a use names the section, without quotation marks. */
export const placeOfUse = (use: SectionUse): Place => ({
  path: use.document.path,
  span: shift(use.item.nameSpan, use.lineStart),
});

/** The place of a section's name where it opens, and its whole text; `undefined` where it can't be opened. */
export function placeOfSection(
  { path, name }: SectionName,
  document: Document,
  charts: Charts,
): (Place & { readonly whole: Span }) | undefined {
  const written = chartAt(path, document, charts);
  const found = written?.outline.sections[written.outline.contents.names.get(name) ?? -1];
  if (found === undefined) return undefined;
  const { source, offset } = found;
  const whole = { start: offset, end: offset + source.text.trimEnd().length };
  return { path, span: shift(source.nameSpan ?? { start: 0, end: 0 }, offset), whole };
}
