import type { Reach } from "../../chart/model.js";
import { defaultSettings } from "../../document/document.js";
import { isOutOfLine } from "../../edits/in-line.js";
import { revoice as revoiced } from "../../edits/revoice.js";
import { applyEdits } from "../../text/edits.js";
import { type Command, misuse } from "../command.js";
import type { ExitCode, Io } from "../io.js";
import { openSource } from "../open.js";
import { badReach, reachOption, readReach } from "../reach-option.js";
import { sayNotes } from "../say-notes.js";
import { sayOutOfLine } from "../say-out-of-line.js";
import { nameOfSource, readSource, writeBack } from "../source.js";

export const revoice: Command = {
  name: "revoice",
  usages: ["FILE --reach N"],
  summary: "makes a chart playable for a smaller hand",
  about:
    "Changes every stack that a hand of this reach can't hold, in the keys that the form plays: as few tones as will do, left out where they are doubled, an octave nearer, or given to the other hand. Thirds, sevenths and the top voice stay. The chart then says the reach. Standard error tells what changed. Without --write the new chart goes to standard output.",
  options: [reachOption, { name: "write", about: "write the chart back" }],
  run({ operands, options }, io) {
    const [path, ...more] = operands;
    if (path === undefined) return misuse(io, "revoice", "Which chart?");
    if (more.length > 0) return misuse(io, "revoice", "One chart at a time.");
    if (!options.has("reach")) return misuse(io, "revoice", "For which reach? --reach 8 is an octave.");
    const reach = readReach(options.get("reach"));
    if (reach === undefined) return misuse(io, "revoice", badReach(options.get("reach")));
    if (options.has("write") && path === "-")
      return misuse(io, "revoice", "Standard input can't be written back: --write needs a file.");
    return revoiceOne(path, reach, options.has("write"), io);
  },
};

function revoiceOne(path: string, reach: Reach, write: boolean, io: Io): ExitCode {
  const source = readSource(io, path);
  if (source === undefined) return 2;
  const document = openSource(io, source, defaultSettings);
  const result = revoiced(document, reach);
  // Nothing is wrong where nothing has to change.
  if ("refused" in result) io.err(`plagal: ${nameOfSource(path)}: ${result.refused}\n`);
  const { edits, notes } = "refused" in result ? { edits: [], notes: [] } : result;
  sayNotes(io, source, document, notes);
  const text = applyEdits(source.text, edits);
  if (isOutOfLine(document.tree, text)) sayOutOfLine(io, nameOfSource(path));
  if (!write) io.out(source.mark + text);
  else if (text !== source.text) return writeBack(io, source, text);
  return 0;
}
