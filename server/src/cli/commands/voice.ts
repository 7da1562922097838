import { reachInForce } from "../../document/document.js";
import { isOutOfLine } from "../../edits/in-line.js";
import { voiceRows } from "../../edits/voice.js";
import type { Hand } from "../../keyboard/hand.js";
import { applyEdits } from "../../text/edits.js";
import { type StyleName, styleNamed, styles } from "../../voicing/styles.js";
import { type Command, complain, misuse } from "../command.js";
import type { ExitCode, Io } from "../io.js";
import { openSource } from "../open.js";
import { type Call, meant, orList } from "../options.js";
import { badReach, reachOption, readReach } from "../reach-option.js";
import { sayNotes } from "../say-notes.js";
import { sayOutOfLine } from "../say-out-of-line.js";
import { nameOfSource, readSource, writeBack } from "../source.js";

const rows = ["right", "left", "both"] as const;
type Row = (typeof rows)[number];
const handsOf = (row: Row): readonly Hand[] => (row === "both" ? ["left", "right"] : [row]);

const styleNames = styles.map(({ name }) => name);

export const voice: Command = {
  name: "voice",
  usages: ["FILE --row ROW --style NAME"],
  summary: "finds voicings for the chords that the hands can play",
  about: `Fills the empty bars of a hand's row, or adds the row, with voicings of the chords in one style: the smoothest way through each section that a hand of this reach can play. A melody in the lead row stays the top voice. What is written already is not touched. Without --write the new chart goes to standard output. Styles: ${styleNames.join(", ")}.`,
  options: [
    { name: "row", value: "ROW", choices: rows, about: "whose row (both where unsaid)" },
    { name: "style", value: "NAME", about: "how the chords are laid out, as in --style shell" },
    { name: "every-key", about: "only voicings that can be played in all twelve keys" },
    { name: "all", about: "write the whole row anew, also what is written in it" },
    reachOption,
    { name: "write", about: "write the chart back" },
  ],
  run({ operands, options }, io) {
    const [path, ...more] = operands;
    if (path === undefined) return misuse(io, "voice", "Which chart?");
    if (more.length > 0) return misuse(io, "voice", "One chart at a time.");
    const name = options.get("style");
    if (name === undefined) return complain(io, `In which style? ${listOfStyles()}`);
    const style = styleNamed(name);
    if (style === undefined) return complain(io, unknownStyle(name));
    const reach = readReach(options.get("reach"));
    if (reach === undefined) return misuse(io, "voice", badReach(options.get("reach")));
    if (options.has("write") && path === "-")
      return misuse(io, "voice", "Standard input can't be written back: --write needs a file.");
    return voiceOne(path, style.name, reach, options, io);
  },
};

const listOfStyles = (): string => `--style takes ${orList(styleNames)}.`;

function unknownStyle(name: string): string {
  const near = meant(name, styleNames);
  const advice = near === undefined ? "" : ` Did you mean ${near}?`;
  return `there is no style “${name}”.${advice} ${listOfStyles()}`;
}

function voiceOne(
  path: string,
  style: StyleName,
  reach: NonNullable<ReturnType<typeof readReach>>,
  options: Call["options"],
  io: Io,
): ExitCode {
  const source = readSource(io, path);
  if (source === undefined) return 2;
  const document = openSource(io, source, { severities: {}, reach });
  const hands = handsOf((options.get("row") ?? "both") as Row);
  const voiced = voiceRows(document, {
    hands,
    style,
    everyKey: options.has("every-key"),
    which: options.has("all") ? "all" : "empty",
    reach: reachInForce(document),
  });
  if ("refused" in voiced) {
    const advice = options.has("all") || document.chart.sections.length === 0 ? "" : " --all voices it anew.";
    return complain(io, voiced.refused + advice);
  }
  sayNotes(io, source, document, voiced.notes);
  const text = applyEdits(source.text, voiced.edits);
  if (isOutOfLine(document.tree, text)) sayOutOfLine(io, nameOfSource(path));
  if (!options.has("write")) io.out(source.mark + text);
  else if (text !== source.text) return writeBack(io, source, text);
  return 0;
}
