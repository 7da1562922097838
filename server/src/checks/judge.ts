import type { Chart, Moved, PlacedSection, Reach, Section } from "../chart/model.js";
import { asPrinted, waysPlayed } from "../chart/played.js";
import type { Hand } from "../keyboard/hand.js";
import type { Code } from "../problems/catalogue.js";
import { byPlace, type Problem, problem, shiftProblem } from "../problems/problem.js";
import type { Line } from "../syntax/tree.js";
import type { JudgedSection, ReachSource, Report } from "./check.js";
import { chartChecks, sectionChecks } from "./list.js";

/** Judgements a section is remembered with: its present one, and those of charts that use it. */
const remembered = 4;
const known = new WeakMap<Section, Map<string, readonly Problem[]>>();

/** What was found in a chart, the problems of its own text. */
export interface Judgement {
  /** The chart's own sections, and for each the name of its judgement and its problems as they stand in the chart. */
  readonly placed: readonly PlacedSection[];
  readonly names: readonly string[];
  readonly inSections: readonly (readonly Problem[])[];
  /** Those of the header, and those seen across sections; in no order. */
  readonly across: readonly Problem[];
}

/**
 * All problems of a chart's own text, those of the parser included. `reach` is the one in force, the user's or the
 * chart's; checks of the `off` codes are not run. Spans count from the chart's start. What `previous`, the judgement
 * of an earlier version, found in sections that stand as they stood is taken over: the answer is the same without it.
 */
export function judge(chart: Chart, reach: Reach, off: ReadonlySet<Code>, previous?: Judgement): Judgement {
  const { header, sections } = chart.outline;
  const across: Problem[] = [];
  const report =
    (code: Code): Report<Code> =>
    (span, facts, extras) => {
      across.push(problem(code, span, facts, extras));
    };
  header.forEach((line, i) => {
    for (const it of line.problems) across.push(shiftProblem(it, chart.outline.headerStarts[i] as number));
  });
  const reachBy = { left: sourceOf("left", reach, chart), right: sourceOf("right", reach, chart) };
  const settings = `${reachBy.left} ${reach.left} ${reachBy.right} ${reach.right} ${[...off].join(" ")}`;
  const ways = chart.asPrinted ? undefined : waysPlayed(chart);
  const placed = chart.sections.slice(0, sections.length);
  const names: string[] = [];
  const inSections = placed.map((it, i): readonly Problem[] => {
    const played = ways?.get(it);
    const name = played === undefined ? settings : nameOfJudgement(settings, it.section, played);
    names.push(name);
    const known =
      previous?.placed[i] === it && previous.names[i] === name ? previous.inSections[i] : undefined;
    return (
      known ??
      problemsOf(
        it,
        { section: it.section, played: played ?? asPrinted(it.section), reach, reachBy },
        off,
        name,
      )
    );
  });
  for (const check of chartChecks) if (!off.has(check.code)) check.run(chart, report(check.code), reach);
  return { placed, names, inSections, across };
}

/** A setting that says what the chart says is the chart's. */
function sourceOf(hand: Hand, reach: Reach, { header }: Chart): ReachSource {
  if (reach[hand] === undefined) return "nobody";
  return reach[hand] === header.reach[hand] ? "chart" : "setting";
}

const problemsOf = (
  { offset }: PlacedSection,
  judged: JudgedSection,
  off: ReadonlySet<Code>,
  name: string,
): readonly Problem[] => judgeSection(judged, off, name).map((it) => shiftProblem(it, offset));

/** The problems of one section, memoised by value. Spans count from its start. */
function judgeSection(judged: JudgedSection, off: ReadonlySet<Code>, name: string): readonly Problem[] {
  const { section } = judged;
  const judgements = known.get(section) ?? new Map<string, readonly Problem[]>();
  known.set(section, judgements);
  let problems = judgements.get(name);
  if (problems === undefined) {
    problems = runChecks(judged, off);
    if (judgements.size >= remembered) judgements.delete(judgements.keys().next().value as string);
    judgements.set(name, problems);
  }
  return problems;
}

/** What problems depend on beside the section. Nearly all sections are played as printed and in no other way. */
function nameOfJudgement(settings: string, { start }: Section, played: readonly Moved[]): string {
  const [first] = played;
  const isAsPrinted = first?.halfSteps === 0 && first.key.tonic === start.key.tonic;
  if (played.length === 1 && isAsPrinted) return settings;
  return played.reduce((name, { key, halfSteps }) => `${name} ${key.tonic}:${halfSteps}`, settings);
}

function runChecks(judged: JudgedSection, off: ReadonlySet<Code>): readonly Problem[] {
  const { lines, starts } = judged.section.source;
  const problems: Problem[] = [];
  for (let i = 0; i < lines.length; i++) {
    const found = (lines[i] as Line).problems;
    if (found.length === 0) continue;
    for (const it of found) problems.push(shiftProblem(it, starts[i] as number));
  }
  let code: Code | undefined;
  const report: Report<Code> = (span, facts, extras) => {
    problems.push(problem(code as Code, span, facts, extras));
  };
  for (const check of sectionChecks) {
    code = check.code;
    if (!off.has(code)) check.run(judged, report);
  }
  return problems.sort(byPlace);
}
