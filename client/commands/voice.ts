import { type QuickPickItem, QuickPickItemKind, type TextDocument, window, workspace } from "vscode";
import type { Place, StyleChoice, VoicingChoice } from "../../server/src/lsp/protocol.js";
import { activeChart } from "../active-chart.js";
import { askAndApply } from "../apply-edit.js";
import { ask } from "../ask.js";
import type { Session } from "../session.js";
import type { Command } from "./command.js";

/**
 * Finds voicings for the chords: of the selected slots, else for what is empty in the whole chart. The player chooses
 * the hands, the style and the keys. A code action may hand over the place.
 */
export const voice: Command = {
  name: "plagal.voice",
  async run(session, target) {
    const place = target as Place | undefined;
    if (place?.textDocument !== undefined) {
      const uri = session.client.protocol2CodeConverter.asUri(place.textDocument.uri);
      const { textDocument: _, ...rest } = place;
      return voiceAt(session, await workspace.openTextDocument(uri), rest);
    }
    const editor = activeChart();
    if (editor === undefined) return;
    const range = session.client.code2ProtocolConverter.asRange(editor.selection);
    await voiceAt(session, editor.document, editor.selection.isEmpty ? {} : { range });
  },
};

type Where = Omit<Place, "textDocument">;

async function voiceAt(session: Session, document: TextDocument, where: Where): Promise<void> {
  const uri = session.client.code2ProtocolConverter.asUri(document.uri);
  const choices = await ask(session, "plagal/voicings", { textDocument: { uri }, ...where });
  if (choices.length === 0) {
    void window.showInformationMessage("There are no chords to voice. Write a chords row first.");
    return;
  }
  const choice = await chooseRows(choices);
  if (choice === undefined) return;
  const style = await chooseStyle(choice);
  if (style === undefined) return;
  const everyKey = await chooseKeys();
  if (everyKey === undefined) return;
  const { rows, anew } = choice;
  const params = { ...where, rows, style, everyKey, anew };
  await askAndApply(session, document, "plagal/voice", params, `Voiced ${style}.`);
}

async function chooseRows(choices: readonly VoicingChoice[]): Promise<VoicingChoice | undefined> {
  const items = choices.map((choice) => ({ choice, label: choice.name, description: choice.fills }));
  const options = { title: "Voice the chords", placeHolder: "For which hand?" };
  return (await window.showQuickPick(items, options))?.choice;
}

async function chooseStyle({ name, styles }: VoicingChoice): Promise<string | undefined> {
  const items = styles.flatMap((it, i): (QuickPickItem & { readonly style?: string })[] => {
    const starts = i === 0 || styles[i - 1]?.suits !== it.suits;
    return [...(starts ? [separator(it)] : []), { style: it.style, label: it.style, detail: it.description }];
  });
  const options = {
    title: `Voice the chords: ${name.toLowerCase()}`,
    placeHolder: "In which style?",
    matchOnDetail: true,
  };
  return (await window.showQuickPick(items, options))?.style;
}

const separator = ({ suits }: StyleChoice): QuickPickItem => ({
  kind: QuickPickItemKind.Separator,
  label: suits ? "suits here" : "others",
});

const keys: readonly (QuickPickItem & { readonly everyKey: boolean })[] = [
  {
    everyKey: false,
    label: "The keys that it is played in",
    description: "every voicing fits the hands there",
  },
  {
    everyKey: true,
    label: "All twelve keys",
    description: "every voicing fits the hands wherever the chart is moved",
  },
];

async function chooseKeys(): Promise<boolean | undefined> {
  const options = { title: "Voice the chords", placeHolder: "Playable in which keys?" };
  return (await window.showQuickPick(keys, options))?.everyKey;
}
