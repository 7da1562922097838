import type { Mark, Section } from "../chart/model.js";

type MarkOf<K extends Mark["kind"]> = Extract<Mark, { readonly kind: K }>;

/**
 * What resolving marked of this kind, in the order of the text. `=` and `%` are charged to what they repeat, so a
 * place that is marked again counts once.
 */
export function marksOf<K extends Mark["kind"]>({ marks }: Section, kind: K): readonly MarkOf<K>[] {
  const found = marks.filter((mark): mark is MarkOf<K> => mark.kind === kind);
  if (found.length < 2) return found;
  const places = new Map<string, MarkOf<K>>();
  for (const mark of found) {
    const place = `${mark.span.start} ${mark.span.end}`;
    if (!places.has(place)) places.set(place, mark);
  }
  return [...places.values()].sort((a, b) => a.span.start - b.span.start);
}
