import type { Chart, Moved, PlacedSection, Reach, Section } from "../chart/model.js";
import { waysPlayed } from "../chart/played.js";
import type { Code } from "../problems/catalogue.js";
import { byPlace, type Problem, problem, shiftProblem } from "../problems/problem.js";
import type { JudgedSection, Report } from "./check.js";
import { chartChecks, sectionChecks } from "./list.js";

/** Judgements a section is remembered with: its present one, and those of charts that use it. */
const remembered = 4;
const known = new WeakMap<Section, Map<string, readonly Problem[]>>();

/**
 * All problems of a chart's own text, in no order, those of the parser included. `reach` is the one in force,
 * the user's or the chart's. Spans count from the chart's start.
 */
export function judge(chart: Chart, reach: Reach): readonly Problem[] {
  const problems: Problem[] = [];
  const report =
    (code: Code): Report<Code> =>
    (span, facts, extras) => {
      problems.push(problem(code, span, facts, extras));
    };
  let at = 0;
  for (const line of chart.headerLines) {
    for (const it of line.problems) problems.push(shiftProblem(it, at));
    at += line.text.length;
  }
  const ways = waysPlayed(chart);
  for (const placed of chart.sections) {
    if (placed.path !== undefined) continue;
    const found = judgeSection(placed.section, playedOr(placed, ways), reach);
    if (found.length > 0) problems.push(...shiftedTo(placed.offset, found));
  }
  for (const check of chartChecks) check.run(chart, report(check.code));
  return problems;
}

/** A section's problems as they stood in the chart last: most stand there still after an edit elsewhere. */
const shifted = new WeakMap<
  readonly Problem[],
  { readonly offset: number; readonly problems: readonly Problem[] }
>();

function shiftedTo(offset: number, found: readonly Problem[]): readonly Problem[] {
  const before = shifted.get(found);
  if (before?.offset === offset) return before.problems;
  const problems = found.map((it) => shiftProblem(it, offset));
  shifted.set(found, { offset, problems });
  return problems;
}

const playedOr = (
  placed: PlacedSection,
  ways: ReadonlyMap<PlacedSection, readonly Moved[]>,
): readonly Moved[] => ways.get(placed) ?? [{ key: placed.section.start.key, halfSteps: 0 }];

/** The problems of one section, memoised by value. Spans count from its start. */
function judgeSection(section: Section, played: readonly Moved[], reach: Reach): readonly Problem[] {
  const name = nameOfJudgement(section, played, reach);
  const judgements = known.get(section) ?? new Map<string, readonly Problem[]>();
  known.set(section, judgements);
  let problems = judgements.get(name);
  if (problems === undefined) {
    problems = runChecks({ section, played, reach });
    if (judgements.size >= remembered) judgements.delete(judgements.keys().next().value as string);
    judgements.set(name, problems);
  }
  return problems;
}

/** What problems depend on beside the section. Nearly all sections are played as printed and nothing else. */
function nameOfJudgement({ start }: Section, played: readonly Moved[], { left, right }: Reach): string {
  let name = left === undefined && right === undefined ? "" : `${left} ${right}`;
  const [first] = played;
  const isAsPrinted = first?.halfSteps === 0 && first.key.tonic === start.key.tonic;
  if (played.length === 1 && isAsPrinted) return name;
  for (const { key, halfSteps } of played) name += ` ${key.tonic}:${halfSteps}`;
  return name;
}

function runChecks(judged: JudgedSection): readonly Problem[] {
  const { lines, starts } = judged.section.source;
  const problems: Problem[] = [];
  lines.forEach((line, i) => {
    for (const it of line.problems) problems.push(shiftProblem(it, starts[i] as number));
  });
  for (const check of sectionChecks) {
    check.run(judged, (span, facts, extras) => {
      problems.push(problem(check.code, span, facts, extras));
    });
  }
  // Sorted here once, those of the whole chart are sorted soon.
  return problems.sort(byPlace);
}
