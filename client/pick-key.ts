import { type QuickPickItem, window } from "vscode";
import { type KeyRow, rowsFor } from "./key-typing.js";

interface KeyItem extends QuickPickItem {
  readonly key: string;
}

const itemOf = ({ key, name, facts, melody, remark }: KeyRow): KeyItem =>
  ({
    key,
    label: name,
    description: facts,
    detail: [melody, remark].filter(Boolean).join(" · ") || undefined,
    // What was typed is read by `rowsFor`; the list's own filter would hide E♭ from whoever types Eb.
    alwaysShow: true,
  }) as KeyItem;

/** Lets the player choose a key, from the list or by typing; `undefined` where none was chosen. */
export function pickKey(title: string, rows: readonly KeyRow[]): Promise<string | undefined> {
  return new Promise((resolve) => {
    const picker = window.createQuickPick<KeyItem>();
    picker.title = title;
    picker.placeholder = "Choose a key, or type it: Eb, F# minor, up 2, down 3";
    const show = () => {
      picker.items = rowsFor(rows, picker.value).map(itemOf);
      const first = picker.value === "" ? (picker.items[1] ?? picker.items[0]) : picker.items[0];
      picker.activeItems = first === undefined ? [] : [first];
    };
    picker.onDidChangeValue(show);
    picker.onDidAccept(() => {
      const chosen = picker.activeItems[0];
      if (chosen === undefined) return;
      resolve(chosen.key);
      picker.hide();
    });
    picker.onDidHide(() => {
      resolve(undefined);
      picker.dispose();
    });
    show();
    picker.show();
  });
}
