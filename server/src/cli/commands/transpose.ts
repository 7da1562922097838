import { defaultSettings } from "../../document/document.js";
import { isOutOfLine } from "../../edits/in-line.js";
import { outputName } from "../../exports/output-path.js";
import { count } from "../../text/count.js";
import { applyEdits } from "../../text/edits.js";
import { practical, practicalKeys } from "../../theory/key.js";
import { nameOf } from "../../theory/note-name.js";
import { type Command, complain, misuse } from "../command.js";
import { type ExitCode, graver, type Io } from "../io.js";
import { moveTo } from "../move.js";
import { openSource } from "../open.js";
import type { Call } from "../options.js";
import { sayNotes } from "../say-notes.js";
import { sayOutOfLine } from "../say-out-of-line.js";
import { nameOfSource, readSource, writeBack, writeChart } from "../source.js";

export const transpose: Command = {
  name: "transpose",
  usages: ["FILE KEY", "FILE --keys all --out DIR"],
  summary: "moves a chart to another key",
  about:
    "Moves the chart to KEY, a tonic such as Ab or F#; a minor chart stays minor. Nothing but key lines and letters changes. Without an option the moved chart goes to standard output.",
  options: [
    { name: "write", about: "write the chart back in its new key" },
    {
      name: "out",
      value: "PATH",
      about: "write the moved chart here; with --keys the folder for all of them",
    },
    { name: "keys", value: "KEYS", choices: ["all"], about: "one chart for each of the twelve keys" },
  ],
  run(call, io) {
    const { operands, options } = call;
    const [path, key, ...more] = operands;
    if (path === undefined) return misuse(io, "transpose", "Which chart?");
    if (options.has("keys")) {
      if (key !== undefined) return misuse(io, "transpose", "Either one KEY or --keys all.");
      const folder = options.get("out");
      if (folder === undefined || options.has("write"))
        return misuse(io, "transpose", "--keys all needs --out DIR, the folder for the twelve charts.");
      return toAllKeys(path, folder, io);
    }
    if (key === undefined) return misuse(io, "transpose", "To which key?");
    if (more.length > 0) return misuse(io, "transpose", "One chart and one key at a time.");
    if (options.has("write") && options.has("out"))
      return misuse(io, "transpose", "Either --write or --out PATH.");
    if (options.has("write") && path === "-")
      return misuse(io, "transpose", "Standard input can't be written back: --write needs a file.");
    return toOneKey(path, key, options, io);
  },
};

function toOneKey(path: string, key: string, options: Call["options"], io: Io): ExitCode {
  const source = readSource(io, path);
  if (source === undefined) return 2;
  const document = openSource(io, source, defaultSettings);
  const moved = moveTo(document, key);
  if ("complaint" in moved) return complain(io, moved.complaint);
  sayNotes(io, source, document, moved.notes);
  const text = applyEdits(source.text, moved.edits);
  const out = options.get("out");
  if (isOutOfLine(document.tree, text)) sayOutOfLine(io, nameOfSource(out ?? path));
  if (out !== undefined) return writeChart(io, out, source.mark + text);
  if (!options.has("write")) io.out(source.mark + text);
  else if (text !== source.text) return writeBack(io, source, text);
  return 0;
}

function toAllKeys(path: string, folder: string, io: Io): ExitCode {
  const source = readSource(io, path);
  if (source === undefined) return 2;
  const failed = io.makeFolder(folder);
  if (failed !== undefined) return complain(io, `can't make the folder ${folder}: ${failed.failure}.`);
  const document = openSource(io, source, defaultSettings);
  const { home, original } = document.chart.header;
  const keys = practicalKeys(home.key.mode).map((key) => practical(key, original ?? home.key.tonic));
  let outcome: ExitCode = 0;
  let written = 0;
  let outOfLine = false;
  for (const { tonic } of keys) {
    const name = nameOf(tonic);
    const moved = moveTo(document, name);
    if ("complaint" in moved) {
      outcome = complain(io, moved.complaint);
      continue;
    }
    if (written === 0) sayNotes(io, source, document, moved.notes);
    const file = io.join(folder, outputName(path, { tonic }, "plagal"));
    const text = applyEdits(source.text, moved.edits);
    const result = writeChart(io, file, source.mark + text);
    outcome = graver(outcome, result);
    if (result !== 0) break;
    written++;
    outOfLine ||= isOutOfLine(document.tree, text);
  }
  io.out(`${count(written, "chart")} of ${nameOfSource(path)} written to ${folder}.\n`);
  if (outOfLine) sayOutOfLine(io, folder);
  return outcome;
}
