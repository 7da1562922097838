import { commands, type TextDocument, workspace } from "vscode";
import type { KeyChoice, Place } from "../../server/src/lsp/protocol.js";
import { activeChart } from "../active-chart.js";
import { askAndApply } from "../apply-edit.js";
import { ask } from "../ask.js";
import type { KeyRow } from "../key-typing.js";
import { pickKey } from "../pick-key.js";
import type { Session } from "../session.js";
import type { Command } from "./command.js";

/** Moves the chart to a key that the player chooses. A code action may hand over the place and the key. */
export const move: Command = {
  name: "plagal.move",
  async run(session, target) {
    const place = target as (Place & { readonly key?: string }) | undefined;
    if (place?.textDocument !== undefined) {
      const uri = session.client.protocol2CodeConverter.asUri(place.textDocument.uri);
      const { textDocument: _, ...rest } = place;
      return moveTo(session, await workspace.openTextDocument(uri), rest);
    }
    const editor = activeChart();
    if (editor !== undefined) await moveTo(session, editor.document, {});
  },
};

/** Where to, of the music at a place: a range, the section around it, or the whole chart. */
type Target = Omit<Place, "textDocument"> & { readonly key?: string };

/** Asks for a key where none is given, and moves that part of the chart there. */
export async function moveTo(session: Session, document: TextDocument, target: Target): Promise<void> {
  const { key: given, ...place } = target;
  const key = given ?? (await chooseKey(session, document, place));
  if (key === undefined) return;
  const moved = await askAndApply(session, document, "plagal/move", { ...place, key }, `Moved to ${key}.`);
  if (moved) await commands.executeCommand("setContext", "plagal.moved", true);
}

async function chooseKey(
  session: Session,
  document: TextDocument,
  place: Omit<Place, "textDocument">,
): Promise<string | undefined> {
  const uri = session.client.code2ProtocolConverter.asUri(document.uri);
  const choices = await ask(session, "plagal/keys", { textDocument: { uri }, ...place });
  return pickKey("Move to another key", choices.map(rowOf));
}

export const rowOf = ({ key, name, signature, interval, lowest, highest, present }: KeyChoice): KeyRow => ({
  key,
  name,
  facts: `${signature} · ${interval}`,
  melody: lowest === undefined ? undefined : `Melody from ${lowest} to ${highest}`,
  present,
});
