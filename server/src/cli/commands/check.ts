import type { Document, Settings } from "../../document/document.js";
import { fixSilently } from "../../document/silent-fixes.js";
import { isOutOfLine } from "../../edits/in-line.js";
import type { Severity } from "../../problems/entry.js";
import { parse } from "../../syntax/parse.js";
import { count } from "../../text/count.js";
import { type Command, misuse } from "../command.js";
import { drawProblem } from "../draw.js";
import { type ExitCode, graver, type Io } from "../io.js";
import { openSource } from "../open.js";
import type { Call } from "../options.js";
import { paintFor } from "../paint.js";
import { problemJson } from "../problem-json.js";
import { badReach, reachOption, readReach } from "../reach-option.js";
import { sarifLog } from "../sarif.js";
import { sayOutOfLine } from "../say-out-of-line.js";
import { schemaNumber } from "../schema.js";
import { nameOfSource, readSource, type Source, writeBack } from "../source.js";

/** Problems of one file that are drawn at most. */
const mostDrawn = 50;

const severities = ["error", "warning", "info", "hint"] as const;
type Reported = (typeof severities)[number];

export const check: Command = {
  name: "check",
  usages: ["FILE…"],
  summary: "finds what doesn't add up",
  about:
    "Draws every problem of the charts under its source line, with what to do about it. `plagal explain CODE` says more about one kind of problem.",
  options: [
    { name: "json", about: "print the problems as JSON" },
    { name: "sarif", about: "print the problems as a SARIF 2.1.0 log" },
    { name: "fix", about: "apply the fixes that can't change a sounding note, and write the charts back" },
    {
      name: "fail-on",
      value: "SEVERITY",
      choices: severities,
      about: "the least severity that counts as failed (error where unsaid)",
    },
    reachOption,
  ],
  run(call, io) {
    const { operands, options } = call;
    if (operands.length === 0) return misuse(io, "check", "Which chart?");
    if (options.has("json") && options.has("sarif"))
      return misuse(io, "check", "One output at a time: --json or --sarif.");
    const reach = readReach(options.get("reach"));
    if (reach === undefined) return misuse(io, "check", badReach(options.get("reach")));
    if (options.has("fix") && operands.includes("-"))
      return misuse(io, "check", "Standard input can't be written back: --fix needs a file.");
    return checkAll(call, io, { severities: {}, reach });
  },
};

interface Checked {
  readonly source: Source;
  readonly document: Document;
  readonly fixed: number;
}

function checkAll({ operands, options }: Call, io: Io, settings: Settings): ExitCode {
  let outcome: ExitCode = 0;
  const files: Checked[] = [];
  const unread: string[] = [];
  const err = (text: string): void => {
    unread.push(text.trimEnd());
    io.err(text);
  };
  const listening: Io = { ...io, err };
  for (const path of operands) {
    const source = readSource(listening, path);
    if (source === undefined) {
      outcome = 2;
      continue;
    }
    const checked = options.has("fix") ? fixAll(source, listening, settings) : checkOne(source, io, settings);
    if (checked.fixed > 0) {
      outcome = graver(outcome, writeBack(listening, source, checked.document.text));
      if (isOutOfLine(parse(source.text), checked.document.text)) sayOutOfLine(io, path);
    }
    files.push(checked);
  }
  const worst = (options.get("fail-on") ?? "error") as Reported;
  const failing = new Set<Severity>(severities.slice(0, severities.indexOf(worst) + 1));
  const isFailing = files.some(({ document }) => document.problems.some((it) => failing.has(it.severity)));
  if (options.has("json")) printJson(files, options.has("fix"), io);
  else if (options.has("sarif")) printSarif(files, unread, io);
  else draw(files, io);
  return isFailing ? graver(outcome, 1) : outcome;
}

const checkOne = (source: Source, io: Io, settings: Settings): Checked => ({
  source,
  document: openSource(io, source, settings),
  fixed: 0,
});

/** The chart after its silent fixes. */
const fixAll = (source: Source, io: Io, settings: Settings): Checked => ({
  source,
  ...fixSilently(openSource(io, source, settings)),
});

function printJson(files: readonly Checked[], withFixed: boolean, io: Io): void {
  const output = {
    schema: schemaNumber,
    files: files.map(({ source, document, fixed }) => ({
      path: source.path,
      ...(withFixed ? { fixed } : {}),
      problems: document.problems.map((problem) => problemJson(problem, document.tree.starts)),
    })),
  };
  io.out(`${JSON.stringify(output, undefined, 2)}\n`);
}

function printSarif(files: readonly Checked[], unread: readonly string[], io: Io): void {
  const checked = files.map(({ source, document }) => ({
    path: source.path,
    starts: document.tree.starts,
    problems: document.problems,
  }));
  io.out(`${JSON.stringify(sarifLog(checked, unread, io.version), undefined, 2)}\n`);
}

function draw(files: readonly Checked[], io: Io): void {
  const paint = paintFor(io);
  for (const { source, document } of files) {
    const path = nameOfSource(source.path);
    const { problems, text, tree } = document;
    for (const problem of problems.slice(0, mostDrawn))
      io.out(`${drawProblem({ path, text, starts: tree.starts }, problem, paint)}\n\n`);
    if (problems.length > mostDrawn)
      io.out(`${path}: and ${problems.length - mostDrawn} more. --json lists them all.\n\n`);
  }
  if (files.length > 0) io.out(`${summary(files)}\n`);
}

/** `2 errors, 1 warning in harbour.plagal.` */
function summary(files: readonly Checked[]): string {
  const where =
    files.length === 1 ? nameOfSource((files[0] as Checked).source.path) : count(files.length, "chart");
  const all = files.flatMap(({ document }) => document.problems);
  const fixed = files.reduce((sum, file) => sum + file.fixed, 0);
  const mended = fixed === 0 ? "" : `${count(fixed, "problem")} fixed. `;
  if (all.length === 0) return `${mended}No problems in ${where}.`;
  const counts = severities
    .map((severity) => [severity, all.filter((it) => it.severity === severity).length] as const)
    .filter(([, n]) => n > 0)
    .map(([severity, n]) => (severity === "info" ? `${n} info` : count(n, severity)));
  return `${mended}${counts.join(", ")} in ${where}.`;
}
