import { defaultSettings } from "../../document/document.js";
import { isOutOfLine } from "../../edits/in-line.js";
import { rewriteRows } from "../../edits/rewrite.js";
import { applyEdits } from "../../text/edits.js";
import { type Command, complain, misuse } from "../command.js";
import type { ExitCode, Io } from "../io.js";
import { openSource } from "../open.js";
import { type Call, orList } from "../options.js";
import { sayNotes } from "../say-notes.js";
import { sayOutOfLine } from "../say-out-of-line.js";
import { nameOfSource, readSource, writeBack } from "../source.js";

const rewritable = ["chords", "right", "left", "lead", "bass"] as const;
type Rewritable = (typeof rewritable)[number];
const isRewritable = (name: string): name is Rewritable => (rewritable as readonly string[]).includes(name);

export const rewrite: Command = {
  name: "rewrite",
  usages: ["numbers FILE", "letters FILE"],
  summary: "writes a chart's rows in numbers, or in letters",
  about:
    "Turns the chords, or the rows that --rows names, from letters into numbers or back. The chart sounds as before. Without an option the new chart goes to standard output.",
  options: [
    {
      name: "rows",
      value: "ROWS",
      about: `which rows, parted by commas: ${orList(rewritable)} (chords where unsaid)`,
    },
    { name: "write", about: "write the chart back" },
  ],
  run(call, io) {
    const [to, path, ...more] = call.operands;
    if (to !== "numbers" && to !== "letters") return misuse(io, "rewrite", "In numbers or in letters?");
    if (path === undefined) return misuse(io, "rewrite", "Which chart?");
    if (more.length > 0) return misuse(io, "rewrite", "One chart at a time.");
    const names = (call.options.get("rows") ?? "chords").split(",").map((name) => name.trim());
    const rows = names.filter(isRewritable);
    const strange = names.find((name) => !isRewritable(name));
    if (strange !== undefined)
      return misuse(
        io,
        "rewrite",
        `There is no row “${strange}” to rewrite: --rows takes ${orList(rewritable)}.`,
      );
    if (call.options.has("write") && path === "-")
      return misuse(io, "rewrite", "Standard input can't be written back: --write needs a file.");
    return rewriteOne(path, to, rows, call.options, io);
  },
};

function rewriteOne(
  path: string,
  to: "numbers" | "letters",
  rows: readonly Rewritable[],
  options: Call["options"],
  io: Io,
): ExitCode {
  const source = readSource(io, path);
  if (source === undefined) return 2;
  const document = openSource(io, source, defaultSettings);
  const rewritten = rewriteRows(document, to, rows);
  if ("refused" in rewritten) return complain(io, withOffer(rewritten));
  sayNotes(io, source, document, rewritten.notes);
  const text = applyEdits(source.text, rewritten.edits);
  if (isOutOfLine(document.tree, text)) sayOutOfLine(io, nameOfSource(path));
  if (!options.has("write")) io.out(source.mark + text);
  else if (text !== source.text) return writeBack(io, source, text);
  return 0;
}

const withOffer = ({ refused, offer }: { readonly refused: string; readonly offer?: string }): string =>
  offer === undefined ? refused : `${refused} ${offer}`;
