import { type Document, defaultSettings } from "../../document/document.js";
import { exportFile, type FileKind, fileKinds } from "../../exports/export-file.js";
import type { ExportedFile } from "../../exports/exporters.js";
import { isFolder, outputName, outputPath } from "../../exports/output-path.js";
import type { SheetOptions } from "../../exports/stand-sheet.js";
import { andList } from "../../text/and-list.js";
import { count } from "../../text/count.js";
import { applyEdits } from "../../text/edits.js";
import { visible } from "../../text/visible.js";
import { practical, practicalKeys } from "../../theory/key.js";
import { nameOf } from "../../theory/note-name.js";
import { type Command, complain, misuse } from "../command.js";
import { type ExitCode, graver, type Io } from "../io.js";
import { moveTo } from "../move.js";
import { openSource } from "../open.js";
import { sayMissing } from "../say-missing.js";
import { nameOfSource, readSource, type Source } from "../source.js";

/** Options that only some kinds have. */
const onlyFor: Readonly<Record<string, readonly FileKind[]>> = {
  paper: ["pdf"],
  section: ["svg"],
  chords: ["pdf", "svg"],
  hands: ["pdf", "svg"],
};

export const exportChart: Command = {
  name: "export",
  usages: ["FILE --to KIND", "FILE --to KIND --keys all --out DIR"],
  summary: "makes a file of the chart that other programs open",
  about:
    "Writes the chart beside it under its own name, or where --out says (a folder, where that ends in /): as it is played, its form in order, for midi and musicxml, as it is written for pdf and svg. A file that is there stays, unless --force is said.",
  options: [
    {
      name: "to",
      value: "KIND",
      choices: Object.keys(fileKinds),
      about:
        "midi: a MIDI file with a track for each hand, the lead and the bass; musicxml: a score to print or to edit further; pdf: the chart for the music stand; svg: a picture of one section; page: a web page that shows the chart and plays it in every key",
    },
    { name: "key", value: "KEY", about: "as if the chart were moved to this key" },
    { name: "keys", value: "KEYS", choices: ["all"], about: "one file for each of the twelve keys" },
    {
      name: "paper",
      value: "PAPER",
      choices: ["a4", "letter"],
      about: "what a pdf is printed on; a4 unless told",
    },
    {
      name: "chords",
      value: "HOW",
      choices: ["letters", "numbers", "both"],
      about: "how a pdf or svg has the chords; as the chart has them unless told",
    },
    {
      name: "hands",
      value: "HOW",
      choices: ["numbers", "names", "none"],
      about: "how a pdf or svg has lead, hands and bass; as the chart has them unless told",
    },
    { name: "section", value: "NAME", about: "what an svg shows; the first section unless told" },
    {
      name: "out",
      value: "PATH",
      about: "write it here, or under its own name in this folder/; with --keys the folder for all of them",
    },
    { name: "force", about: "write over a file that is there" },
  ],
  run({ operands, options }, io) {
    const [path, ...more] = operands;
    if (path === undefined) return misuse(io, "export", "Which chart?");
    if (more.length > 0) return misuse(io, "export", "One chart at a time.");
    const kind = options.get("to") as FileKind | undefined;
    if (kind === undefined) return misuse(io, "export", "To what? --to midi, for instance.");
    for (const [name, kinds] of Object.entries(onlyFor)) {
      if (options.has(name) && !kinds.includes(kind))
        return misuse(io, "export", `--${name} is for --to ${kinds.join(" and --to ")}.`);
    }
    const key = options.get("key");
    const out = options.get("out");
    if (out === "-") return misuse(io, "export", "Such a file is no text to print: --out needs a file.");
    const all = options.has("keys");
    if (all && key !== undefined) return misuse(io, "export", "Either --key KEY or --keys all.");
    if (all && out === undefined)
      return misuse(io, "export", "--keys all needs --out DIR, the folder for the twelve files.");
    if (path === "-" && out === undefined)
      return misuse(io, "export", "Standard input has no name to write under: --out needs a file.");
    const source = readSource(io, path);
    if (source === undefined) return 2;
    const sheet = Object.fromEntries(
      ["paper", "chords", "hands"].flatMap((name) => {
        const value = options.get(name);
        return value === undefined ? [] : [[name, value]];
      }),
    ) as SheetOptions;
    const section = options.get("section");
    const job: Job = { source, kind, sheet, section, force: options.has("force"), io };
    return all ? toAllKeys(job, out as string) : toOneKey(job, key, out);
  },
};

interface Job {
  readonly source: Source;
  readonly kind: FileKind;
  readonly sheet: SheetOptions;
  /** The name of the one that is drawn. */
  readonly section: string | undefined;
  readonly force: boolean;
  readonly io: Io;
}

function toOneKey(job: Job, key: string | undefined, out: string | undefined): ExitCode {
  const { source, kind, io } = job;
  const document = openSource(io, source, defaultSettings);
  const moved = key === undefined ? document : inKey(document, key, job);
  if (moved === undefined) return 2;
  const tonic = key === undefined ? undefined : moved.chart.header.home.key.tonic;
  const shown = { tonic, section: ownName(document, job.section) };
  const { ending } = fileKinds[kind];
  let path = out ?? outputPath(source.path, shown, ending);
  if (isFolder(path)) {
    const failed = io.makeFolder(path);
    if (failed !== undefined) return complain(io, `can't make the folder ${path}: ${failed.failure}.`);
    path = io.join(path, outputName(source.path, shown, ending));
  }
  const result = write(job, moved, path);
  if (result !== 0) return result;
  io.out(`${path} written.\n`);
  return sayMissing(io, document, source.path, "in it");
}

function toAllKeys(job: Job, folder: string): ExitCode {
  const { source, kind, io } = job;
  const failed = io.makeFolder(folder);
  if (failed !== undefined) return complain(io, `can't make the folder ${folder}: ${failed.failure}.`);
  const document = openSource(io, source, defaultSettings);
  const { home, original } = document.chart.header;
  let outcome: ExitCode = 0;
  let written = 0;
  for (const it of practicalKeys(home.key.mode)) {
    const { tonic } = practical(it, original ?? home.key.tonic);
    const moved = inKey(document, nameOf(tonic), job);
    if (moved === undefined) {
      outcome = 2;
      continue;
    }
    const name = outputName(
      source.path,
      { tonic, section: ownName(document, job.section) },
      fileKinds[kind].ending,
    );
    const result = write(job, moved, io.join(folder, name));
    outcome = graver(outcome, result);
    if (result !== 0) break;
    written++;
  }
  io.out(`${count(written, "file")} of ${nameOfSource(source.path)} written to ${folder}.\n`);
  return graver(outcome, sayMissing(io, document, source.path, "in them"));
}

/** A section's name as the chart has it, however the call wrote it, so that its file has one name. */
const ownName = ({ chart }: Document, said: string | undefined): string | undefined =>
  chart.sections.find(({ section }) => section.name.toLowerCase() === said?.trim().toLowerCase())?.section
    .name ?? said;

/** The chart moved to a key, or `undefined` after a complaint. */
function inKey(document: Document, key: string, { source, io }: Job): Document | undefined {
  const moved = moveTo(document, key);
  if ("complaint" in moved) {
    complain(io, moved.complaint);
    return undefined;
  }
  return openSource(io, { ...source, text: applyEdits(document.text, moved.edits) }, defaultSettings);
}

/** A file's bytes, and after how many bars it ends where the form is too long; `undefined` after a complaint. */
function make(job: Job, document: Document): ExportedFile | undefined {
  const { kind, sheet, section, io } = job;
  const { chart } = document;
  const moved = (tonic: number) => inKey(document, nameOf(tonic), job)?.chart;
  const made = exportFile(kind, chart, io, { moved, sheet, section });
  if (made !== undefined) return made;
  const names = chart.sections.map((it) => it.section.name).filter((name) => name !== "");
  const there = names.length === 0 ? "" : ` It has ${andList(names.slice(0, 20).map(quoted))}.`;
  complain(
    io,
    section === undefined
      ? "the chart has no bars to draw."
      : `there is no section ${quoted(section)}.${there}`,
  );
  return undefined;
}

const quoted = (name: string): string => `“${visible(name)}”`;

function write(job: Job, document: Document, path: string): ExitCode {
  const { source, force, io } = job;
  const made = make(job, document);
  if (made === undefined) return 2;
  const { bytes, bars, cut } = made;
  const failed = force ? io.write(path, bytes) : io.writeNew(path, bytes);
  if (failed !== undefined) {
    const advice = failed.exists === true ? " --force writes over it." : "";
    return complain(io, `can't write ${path}: ${failed.failure}.${advice}`);
  }
  if (cut)
    io.err(
      `plagal: ${nameOfSource(source.path)}: the form goes on too long; ${path} ends after ${bars} bars.\n`,
    );
  return 0;
}
