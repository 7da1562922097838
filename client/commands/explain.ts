import { type QuickPickItem, Uri, window } from "vscode";
import { checks } from "../checks.js";
import { openPage } from "../open-page.js";
import type { Command } from "./command.js";

/** Opens the page of a check: the one that is named, or one that the player chooses. */
export const explain: Command = {
  name: "plagal.explain",
  async run({ context }, given) {
    const code = typeof given === "string" ? given : await chooseCheck();
    if (code === undefined || !checks.some((it) => it.code === code)) return;
    await openPage(Uri.joinPath(context.extensionUri, "dist", "checks", `${code}.md`));
  },
};

async function chooseCheck(): Promise<string | undefined> {
  const items = checks.map(
    ({ code, summary, severity }): QuickPickItem => ({ label: code, description: severity, detail: summary }),
  );
  const options = { title: "Explain a check", placeHolder: "Which one?", matchOnDetail: true };
  return (await window.showQuickPick(items, options))?.label;
}
