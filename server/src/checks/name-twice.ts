import type { Chart, PlacedSection } from "../chart/model.js";
import type { Fix } from "../problems/problem.js";
import type { Statement } from "../syntax/tree.js";
import { type Span, shift, sliceOf } from "../text/span.js";
import type { ChartCheck, Report } from "./check.js";
import { firstWordSpan } from "./first-word.js";

/** A header line, a section's name or a name from another chart that stands a second time: the first counts. */
export const nameTwice: ChartCheck<"name-twice"> = {
  code: "name-twice",
  run(chart, report) {
    headerTwice(chart, report);
    sectionTwice(chart, report);
    for (const { path, span, taken } of chart.uses) {
      if (taken.length > 0) report(span, { kind: "use", path, names: taken });
    }
  },
};

function headerTwice({ outline }: Chart, report: Report<"name-twice">): void {
  const said = new Map<string, Span>();
  let at = 0;
  for (const line of outline.header) {
    const says = saidBy(line.statement);
    const again = says.filter((what) => said.has(what));
    const first = said.get(again[0] ?? "");
    const word = firstWordSpan(line);
    if (first !== undefined) {
      const inSection = mayStandInside.has(line.statement.kind);
      const related = [{ span: first, message: "This one counts." }];
      // What such a line says for the first time would be lost with it.
      const fixes = again.length < says.length ? [] : [takeAway({ start: at, end: at + line.text.length })];
      const facts = { word: sliceOf(line.text, word), inSection };
      report(shift(word, at), { kind: "line", ...facts }, { related, fixes });
    }
    for (const what of says) if (!said.has(what)) said.set(what, shift(word, at));
    at += line.text.length;
  }
}

const mayStandInside: ReadonlySet<Statement["kind"]> = new Set(["key", "time", "tempo", "feel"]);

/** What a header line settles for the chart; nothing where it can't be read. */
function saidBy(statement: Statement): readonly string[] {
  switch (statement.kind) {
    case "text":
      return statement.word === "note" || statement.value === "" ? [] : [statement.word];
    case "key":
      return statement.tonic === undefined ? [] : ["key"];
    case "time":
    case "tempo":
    case "feel":
      return statement.value === undefined ? [] : [statement.kind];
    case "reach":
      return [
        ...(statement.left === undefined ? [] : ["reach left"]),
        ...(statement.right === undefined ? [] : ["reach right"]),
      ];
    default:
      return [];
  }
}

const takeAway = (span: Span): Fix => ({
  title: "Take this line away",
  edits: [{ span, text: "" }],
  silent: false,
});

function sectionTwice({ outline, sections }: Chart, report: Report<"name-twice">): void {
  if (outline.contents.names.size === outline.sections.length) return;
  const named = sections.filter(({ path, section }) => path === undefined && section.name !== "");
  const names = new Set(named.map(({ section }) => section.name));
  const firsts = new Map<string, PlacedSection>();
  for (const placed of named) {
    const { name } = placed.section;
    const first = firsts.get(name);
    if (first === undefined) {
      firsts.set(name, placed);
      continue;
    }
    const span = nameSpan(placed);
    const related = [{ span: nameSpan(first), message: "This one is played." }];
    const free = freeName(name, names);
    const fixes = [{ title: `Name it ${free}`, edits: [{ span, text: free }], silent: false }];
    report(span, { kind: "section", name }, { related, fixes });
  }
}

const nameSpan = ({ section, offset }: PlacedSection): Span =>
  shift(section.source.nameSpan ?? { start: 0, end: 0 }, offset);

/** The name with the lowest number from 2 that no section has. */
function freeName(name: string, taken: ReadonlySet<string>): string {
  const [, stem = name] = /^(.*?)(?: +[0-9]+)?$/.exec(name) ?? [];
  let number = 2;
  while (taken.has(`${stem} ${number}`)) number++;
  return `${stem} ${number}`;
}
