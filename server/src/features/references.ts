import { locate } from "../chart/locate.js";
import type { Document } from "../document/document.js";
import { allWith, type Charts, type Place } from "./charts.js";
import { placeOfSection, placeOfUse, sectionNamedAt, usesOf } from "./section-uses.js";

/**
 * Every place that plays the section named at `offset`, in all charts; on a `use` path every chart's `use` of that
 * chart. `withOpening` adds the section's own line, first. Nothing elsewhere.
 */
export function references(
  document: Document,
  offset: number,
  charts: Charts,
  withOpening: boolean,
): readonly Place[] {
  const here = locate(document, offset);
  if (here.kind === "use") return usesOfChart(document, here.path, charts);
  const named = sectionNamedAt(document, offset);
  if (named === undefined) return [];
  const { section, opens, span } = named;
  if (section === undefined) {
    return opens !== undefined && withOpening ? [{ path: document.path, span }] : [];
  }
  const opening = withOpening ? placeOfSection(section, document, charts) : undefined;
  const uses = usesOf(section, allWith(document, charts)).map(placeOfUse);
  return opening === undefined ? uses : [{ path: opening.path, span: opening.span }, ...uses];
}

function usesOfChart(document: Document, written: string, charts: Charts): readonly Place[] {
  const wanted = charts.find(document.path, written);
  if (wanted === undefined) return [];
  return allWith(document, charts).flatMap(({ path, chart }) =>
    chart.uses
      .filter((it) => it.found === "chart" && charts.find(path, it.path) === wanted)
      .map(({ span }) => ({ path, span })),
  );
}
