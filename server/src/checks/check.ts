import type { Chart, Moved, Reach, Section } from "../chart/model.js";
import type { Hand } from "../keyboard/hand.js";
import type { Code, FactsOf } from "../problems/catalogue.js";
import type { Extras } from "../problems/problem.js";
import type { Span } from "../text/span.js";

/** Tells of one problem: its place, the facts its message is made from, and what belongs to it. */
export type Report<C extends Code> = (span: Span, facts: FactsOf<C>, extras?: Extras) => void;

/** A section as hands play it. */
export interface PlayedSection {
  readonly section: Section;
  /** How the form plays it, each way once; as printed where it isn't played. Never empty. */
  readonly played: readonly Moved[];
  readonly reach: Reach;
}

/** A section with all that its problems may depend on, so that they can be remembered with it. */
export interface JudgedSection extends PlayedSection {
  /** Who says so: the user, the chart, or nobody. */
  readonly reachBy: Readonly<Record<Hand, ReachSource>>;
}

export type ReachSource = "setting" | "chart" | "nobody";

/** A check that sees one section and nothing else. Spans count from the section's start. */
export interface SectionCheck<C extends Code = Code> {
  readonly code: C;
  run(judged: JudgedSection, report: Report<C>): void;
}

/** A check that looks across sections, at their ends and names. Spans count from the chart's start. */
export interface ChartCheck<C extends Code = Code> {
  readonly code: C;
  run(chart: Chart, report: Report<C>, reach: Reach): void;
}
