import { type Offer, type TypingPlace, valueSpan } from "./completion-place.js";

/** The other charts that a `use` line may name, by their paths from this one; those that are used already are left out. */
export function pathOffers(place: TypingPlace, wordEnd: number, paths: readonly string[]): readonly Offer[] {
  const span = valueSpan(place, wordEnd);
  if (span === undefined) return [];
  const here = place.body.slice(span.start, span.end);
  const taken = new Set(place.document.chart.uses.map(({ path }) => path));
  return paths
    .map((path) => ({ path, text: `"${path}"` }))
    .filter(({ path, text }) => path !== "" && !/["\r\n]/.test(path) && (text === here || !taken.has(path)))
    .map(({ path, text }) => ({ label: path, kind: "value", span, text, filter: text }));
}
