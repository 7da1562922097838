import { defaultSettings } from "../../document/document.js";
import type { Code } from "../../problems/catalogue.js";
import { count } from "../../text/count.js";
import { applyEdits } from "../../text/edits.js";
import { type Command, complain, misuse } from "../command.js";
import { drawProblem } from "../draw.js";
import type { ExitCode, Io } from "../io.js";
import { moveTo } from "../move.js";
import { openSource } from "../open.js";
import type { Call } from "../options.js";
import { paintFor } from "../paint.js";
import { showJson } from "../show-json.js";
import { showPage } from "../show-page.js";
import { nameOfSource, readSource } from "../source.js";

/** What a hand can't hold is shown all the same: nothing is missing where these are told. */
const missesNothing: ReadonlySet<Code> = new Set([
  "hand-span",
  "too-many-notes",
  "hands-collide",
  "hands-cross",
]);

/** Problems that are named at most. */
const mostNamed = 20;
/** Bars that are shown at most: more than a day of playing. */
const mostBars = 20_000;

export const show: Command = {
  name: "show",
  usages: ["FILE"],
  summary: "the chart in full: chords, what they do, every note by name",
  about:
    "Prints the chart bar by bar: the chords with what they do in the key, and the notes of each hand. What can't be read is left out and named on standard error.",
  options: [
    { name: "key", value: "KEY", about: "show it as if it were moved to this key" },
    { name: "json", about: "print it as JSON" },
  ],
  run(call, io) {
    const [path, ...more] = call.operands;
    if (path === undefined) return misuse(io, "show", "Which chart?");
    if (more.length > 0) return misuse(io, "show", "One chart at a time.");
    return showOne(path, call.options, io);
  },
};

function showOne(path: string, options: Call["options"], io: Io): ExitCode {
  const source = readSource(io, path);
  if (source === undefined) return 2;
  let document = openSource(io, source, defaultSettings);
  const key = options.get("key");
  if (key !== undefined) {
    const moved = moveTo(document, key);
    if ("complaint" in moved) return complain(io, moved.complaint);
    document = openSource(io, { ...source, text: applyEdits(document.text, moved.edits) }, defaultSettings);
  }
  const bars = document.chart.sections.reduce((sum, { section }) => sum + section.bars.length, 0);
  if (bars > mostBars) {
    const name = nameOfSource(source.path);
    return complain(
      io,
      `${name} has ${bars} bars, and ${mostBars} are shown at most. Part it into several charts.`,
    );
  }
  const errors = document.problems.filter(
    ({ severity, code }) => severity === "error" && !missesNothing.has(code),
  );
  io.out(
    options.has("json")
      ? `${JSON.stringify(showJson(document, source.path), undefined, 2)}\n`
      : showPage(document.chart, paintFor(io)),
  );
  if (errors.length === 0) return 0;
  const name = nameOfSource(source.path);
  const paint = paintFor({ ...io, isTerminal: false });
  for (const problem of errors.slice(0, mostNamed))
    io.err(
      `${drawProblem({ path: name, text: document.text, starts: document.tree.starts }, problem, paint)}\n\n`,
    );
  io.err(`${count(errors.length, "error")} in ${name}. What they touch may be missing above.\n`);
  return 1;
}
