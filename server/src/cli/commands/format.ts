import { format as formatTree } from "../../edits/format.js";
import { parse } from "../../syntax/parse.js";
import { count } from "../../text/count.js";
import { applyEdits } from "../../text/edits.js";
import { splitLines } from "../../text/lines.js";
import { type Command, misuse } from "../command.js";
import { unifiedDiff } from "../diff.js";
import { type ExitCode, graver, type Io } from "../io.js";
import type { Call } from "../options.js";
import { nameOfSource, readSource, type Source, writeBack } from "../source.js";

export const format: Command = {
  name: "format",
  usages: ["FILE…"],
  summary: "lines up bars and slots",
  about:
    "Lines up the bars and slots of the rows that sound together. Only spaces change; a system that can't be read is left as it is. Without an option the formatted chart goes to standard output.",
  options: [
    { name: "write", about: "write the charts back" },
    { name: "check", about: "change nothing; print a diff and exit 1 where a chart is not formatted" },
  ],
  run(call, io) {
    const { operands, options } = call;
    if (operands.length === 0) return misuse(io, "format", "Which chart?");
    if (options.has("write") && options.has("check"))
      return misuse(io, "format", "--check changes nothing, --write does: take one of them.");
    if (options.has("write") && operands.includes("-"))
      return misuse(io, "format", "Standard input can't be written back: --write needs a file.");
    if (operands.length > 1 && !options.has("write") && !options.has("check"))
      return misuse(io, "format", "Several charts can't share standard output: use --write or --check.");
    return formatAll(call, io);
  },
};

function formatAll({ operands, options }: Call, io: Io): ExitCode {
  let outcome: ExitCode = 0;
  for (const path of operands) {
    const source = readSource(io, path);
    outcome = graver(outcome, source === undefined ? 2 : formatOne(source, options, io));
  }
  return outcome;
}

function formatOne(source: Source, options: Call["options"], io: Io): ExitCode {
  const tree = parse(source.text);
  const text = applyEdits(source.text, formatTree(tree));
  if (options.has("check")) {
    io.out(unifiedDiff(nameOfSource(source.path), splitLines(source.text), splitLines(text)));
    return text === source.text ? 0 : 1;
  }
  const unread = tree.lines.filter(({ problems }) =>
    problems.some(({ severity }) => severity === "error"),
  ).length;
  if (unread > 0) {
    const name = nameOfSource(source.path);
    io.err(
      `plagal: ${name}: ${count(unread, "line")} can't be read and stayed as written, with the rows around. \`plagal check\` says why.\n`,
    );
  }
  const outcome = unread > 0 ? 1 : 0;
  if (!options.has("write")) io.out(source.mark + text);
  else if (text !== source.text) return graver(outcome, writeBack(io, source, text));
  return outcome;
}
