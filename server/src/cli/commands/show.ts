import { defaultSettings } from "../../document/document.js";
import { applyEdits } from "../../text/edits.js";
import { type Command, complain, misuse } from "../command.js";
import type { ExitCode, Io } from "../io.js";
import { moveTo } from "../move.js";
import { openSource } from "../open.js";
import type { Call } from "../options.js";
import { paintFor } from "../paint.js";
import { sayMissing } from "../say-missing.js";
import { showJson } from "../show-json.js";
import { showPage } from "../show-page.js";
import { nameOfSource, readSource } from "../source.js";

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
  io.out(
    options.has("json")
      ? `${JSON.stringify(showJson(document, source.path), undefined, 2)}\n`
      : showPage(document.chart, paintFor(io)),
  );
  return sayMissing(io, document, source.path, "above");
}
