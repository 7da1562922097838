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
 * the user's or the chart's; checks of the `off` codes are not run. Spans count from the chart's start.
 */
export function judge(chart: Chart, reach: Reach, off: ReadonlySet<Code>): readonly Problem[] {
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
  const settings = `${reach.left} ${reach.right} ${[...off].join(" ")}`;
  const ways = waysPlayed(chart);
  for (const placed of chart.sections) {
    if (placed.path !== undefined) continue;
    const played = ways.get(placed) ?? [{ key: placed.section.start.key, halfSteps: 0 }];
    const name = nameOfJudgement(settings, placed.section, played);
    let told = inPlace.get(placed);
    if (told?.name !== name) {
      const found = judgeSection({ section: placed.section, played, reach }, off, name);
      told = { name, problems: found.map((it) => shiftProblem(it, placed.offset)) };
      inPlace.set(placed, told);
    }
    for (const it of told.problems) problems.push(it);
  }
  for (const check of chartChecks) if (!off.has(check.code)) check.run(chart, report(check.code));
  return problems;
}

/** The problems of a section as they stand in its chart: most stand there still after an edit elsewhere. */
const inPlace = new WeakMap<
  PlacedSection,
  { readonly name: string; readonly problems: readonly Problem[] }
>();

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
  lines.forEach((line, i) => {
    for (const it of line.problems) problems.push(shiftProblem(it, starts[i] as number));
  });
  for (const check of sectionChecks) {
    if (off.has(check.code)) continue;
    check.run(judged, (span, facts, extras) => {
      problems.push(problem(check.code, span, facts, extras));
    });
  }
  // Sorted here once, those of the whole chart are sorted soon.
  return problems.sort(byPlace);
}
