import {
  type CancellationToken,
  commands,
  env,
  FileType,
  type Position,
  ProgressLocation,
  type QuickPickItem,
  type TextDocument,
  Uri,
  window,
  workspace,
} from "vscode";
import type { ExportParams, KeyChoice } from "../../server/src/lsp/protocol.js";
import { activeChart } from "../active-chart.js";
import { ask } from "../ask.js";
import { bytesOf } from "../base64.js";
import { pickKey } from "../pick-key.js";
import type { Session } from "../session.js";
import type { Command } from "./command.js";
import { rowOf } from "./move.js";

type Kind = ExportParams["kind"];

const kinds: ReadonlyArray<QuickPickItem & { readonly to: Kind }> = [
  { to: "pdf", label: "For the music stand", description: "PDF" },
  { to: "page", label: "A page that plays itself", description: "HTML, opens in any browser" },
  { to: "midi", label: "Sound for other programs", description: "MIDI, a track for each hand" },
  { to: "musicxml", label: "A score for other programs", description: "MusicXML" },
  { to: "svg", label: "A picture of one section", description: "SVG, the section at the cursor" },
];

/** Makes a file of the chart: the player chooses what, in which keys, and where it goes. */
export const exportChart: Command = {
  name: "plagal.export",
  async run(session) {
    const editor = activeChart();
    if (editor === undefined) return;
    const { document } = editor;
    const title = "Export the chart";
    const kind = (await window.showQuickPick(kinds, { title, placeHolder: "As what?" }))?.to;
    if (kind === undefined) return;
    const keys = await chooseKeys(session, document);
    if (keys === undefined) return;
    const what: What = { document, kind, position: editor.selection.active };
    if (keys.length > 1) await toFolder(session, what, keys);
    else await toFile(session, what, keys[0]);
  },
};

/** What is to be made; the cursor's place says which section a picture shows. */
interface What {
  readonly document: TextDocument;
  readonly kind: Kind;
  readonly position: Position;
}

type Which = "present" | "other" | "all";

/** The keys that were chosen, one `undefined` for the chart as it stands; nothing where none was. */
async function chooseKeys(
  session: Session,
  document: TextDocument,
): Promise<readonly (string | undefined)[] | undefined> {
  const uri = session.client.code2ProtocolConverter.asUri(document.uri);
  const choices: readonly KeyChoice[] = await ask(session, "plagal/keys", { textDocument: { uri } });
  const present = choices.find((it) => it.present)?.name;
  const items: ReadonlyArray<QuickPickItem & { readonly which: Which }> = [
    { which: "present", label: "As it stands", ...(present === undefined ? {} : { description: present }) },
    { which: "other", label: "In another key…", description: "the chart itself stays" },
    { which: "all", label: "In all twelve keys", description: "a file for each" },
  ];
  const chosen = await window.showQuickPick(items, {
    title: "Export the chart",
    placeHolder: "In which keys?",
  });
  if (chosen === undefined) return undefined;
  if (chosen.which === "present") return [undefined];
  if (chosen.which === "all") return choices.map(({ key }) => key);
  const key = await pickKey("Export in another key", choices.map(rowOf));
  return key === undefined ? undefined : [key];
}

interface Made {
  readonly name: string;
  readonly bytes: Uint8Array;
  readonly notes: readonly string[];
}

/** The file, or `undefined` after the player was told why there is none. */
async function make(
  session: Session,
  { document, kind, position: { line, character } }: What,
  key: string | undefined,
): Promise<Made | undefined> {
  const uri = session.client.code2ProtocolConverter.asUri(document.uri);
  const position = { line, character };
  const params = { textDocument: { uri }, kind, position, ...(key === undefined ? {} : { key }) };
  const { name, bytes, notes, refused } = await ask(session, "plagal/export", params);
  if (name === undefined || bytes === undefined) {
    void window.showWarningMessage(refused ?? "There is no file to be made of this chart.");
    return undefined;
  }
  return { name, bytes: bytesOf(bytes), notes };
}

async function toFile(session: Session, what: What, key: string | undefined): Promise<void> {
  const made = await make(session, what, key);
  if (made === undefined) return;
  // The dialog asks by itself before a file is replaced.
  const place = await window.showSaveDialog({
    defaultUri: Uri.joinPath(folderOf(what.document), made.name),
    title: "Export the chart",
    saveLabel: "Export",
  });
  if (place === undefined) return;
  await workspace.fs.writeFile(place, made.bytes);
  tell([`Saved to ${workspace.asRelativePath(place)}.`, ...made.notes].join(" "), place);
}

async function toFolder(session: Session, what: What, keys: readonly (string | undefined)[]): Promise<void> {
  const [folder] =
    (await window.showOpenDialog({
      defaultUri: folderOf(what.document),
      canSelectFiles: false,
      canSelectFolders: true,
      title: `Where should the ${keys.length} files go?`,
      openLabel: "Export Here",
    })) ?? [];
  if (folder === undefined) return;
  await window.withProgress(
    { location: ProgressLocation.Notification, title: "Exporting", cancellable: true },
    async (progress, token) => {
      const files = await makeAll(session, what, keys, token, (name) =>
        progress.report({ message: name, increment: 100 / keys.length }),
      );
      if (token.isCancellationRequested || files.length === 0) return;
      if (!(await mayReplace(folder, files))) return;
      for (const { name, bytes } of files) await workspace.fs.writeFile(Uri.joinPath(folder, name), bytes);
      const notes = [...new Set(files.flatMap((it) => it.notes))];
      tell(
        [`${files.length} files saved to ${workspace.asRelativePath(folder)}.`, ...notes].join(" "),
        folder,
      );
    },
  );
}

/** One after the other, so that it can be cancelled in between; nothing is written before all are made. */
async function makeAll(
  session: Session,
  what: What,
  keys: readonly (string | undefined)[],
  token: CancellationToken,
  report: (name: string) => void,
): Promise<readonly Made[]> {
  const files: Made[] = [];
  for (const key of keys) {
    if (token.isCancellationRequested) break;
    const made = await make(session, what, key);
    if (made === undefined) return [];
    files.push(made);
    report(made.name);
  }
  return files;
}

async function mayReplace(folder: Uri, files: readonly Made[]): Promise<boolean> {
  const there = new Set((await workspace.fs.readDirectory(folder)).map(([name]) => name));
  const count = files.filter(({ name }) => there.has(name)).length;
  if (count === 0) return true;
  const replace = "Replace Them";
  const words = count === 1 ? "1 file is there already." : `${count} files are there already.`;
  return (await window.showWarningMessage(words, { modal: true }, replace)) === replace;
}

const folderOf = (document: TextDocument): Uri =>
  document.isUntitled
    ? (workspace.workspaceFolders?.[0]?.uri ?? Uri.joinPath(document.uri, ".."))
    : Uri.joinPath(document.uri, "..");

/** Says where it went, with a way to open it and one to see it among the other files. */
function tell(words: string, place: Uri): void {
  const [open, show] = ["Open", "Show in Folder"];
  void workspace.fs.stat(place).then(async ({ type }) => {
    const isFile = (type & FileType.File) !== 0;
    const chosen = await window.showInformationMessage(words, ...(isFile ? [open, show] : [show]));
    if (chosen === open) await openFile(place);
    if (chosen === show) await commands.executeCommand("revealInExplorer", place);
  });
}

/** With the system's own program for such files, where the editor runs on the player's machine. */
async function openFile(place: Uri): Promise<void> {
  const isHere = place.scheme === "file" && env.remoteName === undefined;
  if (!(isHere && (await env.openExternal(place)))) await commands.executeCommand("vscode.open", place);
}
