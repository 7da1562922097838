import type { Chart, PlacedSection } from "../chart/model.js";
import type { FormItem } from "../syntax/tree.js";
import { nearest } from "../text/nearest.js";

/** A section name of a `form` line, or of a `play` line in one of the chart's own sections. */
export interface SectionWord {
  readonly item: FormItem;
  /** Where its line starts in the chart. */
  readonly lineStart: number;
  /** What it names; `undefined` where nobody has that name. */
  readonly target: PlacedSection | undefined;
  /** The section that plays it; `undefined` in the form. */
  readonly within: PlacedSection | undefined;
}

const known = new WeakMap<Chart, readonly SectionWord[]>();

/** Every section name that the chart's own text plays, the form's first. */
export function sectionWords(chart: Chart): readonly SectionWord[] {
  const words = known.get(chart) ?? readWords(chart);
  known.set(chart, words);
  return words;
}

function readWords({ outline, formWords, sections }: Chart): readonly SectionWord[] {
  const words: SectionWord[] = formWords.map(({ item, lineStart, section }) => ({
    item,
    lineStart,
    target: section,
    within: undefined,
  }));
  for (const index of outline.contents.holding.play) {
    const placed = sections[index] as PlacedSection;
    placed.section.plays.forEach(({ item, lineStart }, i) => {
      words.push({ item, lineStart: placed.offset + lineStart, target: placed.plays[i], within: placed });
    });
  }
  return words;
}

/** The names of all sections that can be played. */
export function namesOf({ sections, uses }: Chart): readonly string[] {
  const names = new Set([
    ...sections.map(({ section }) => section.name),
    ...uses.flatMap(({ names }) => names),
  ]);
  names.delete("");
  return [...names];
}

/** A name without what is easily written otherwise: capitals, spaces, hyphens, marks. */
export const bareName = (name: string): string => name.toLowerCase().replace(/[\s\p{P}]+/gu, "");

/** Of these names those that a name which nobody has may have meant, nearest first. */
export function namesMeant(names: readonly string[], name: string): readonly string[] {
  const bare = bareName(name);
  const same = bare === "" ? [] : names.filter((it) => bareName(it) === bare);
  const near = nearest(name, names, Math.min(3, Math.ceil(name.length / 3)), 3);
  return [...new Set([...same, ...near])].slice(0, 3);
}
