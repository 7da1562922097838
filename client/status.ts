import {
  type Disposable,
  LanguageStatusSeverity,
  languages,
  type TextEditor,
  window,
  workspace,
} from "vscode";
import type { StatusAnswer } from "../server/src/lsp/protocol.js";
import { ask as askServer } from "./ask.js";
import type { Session } from "./session.js";

/** How long typing rests before the status is asked for anew, in milliseconds. */
const rest = 400;

const counted = (count: number, one: string, many: string): string =>
  count === 0 ? "" : `${count} ${count === 1 ? one : many}`;

/** Problems in words: `2 errors, 1 warning`, or that there are none. */
export function problemsInWords({ errors, warnings, others }: StatusAnswer): string {
  const parts = [
    counted(errors, "error", "errors"),
    counted(warnings, "warning", "warnings"),
    counted(others, "remark", "remarks"),
  ];
  return parts.filter((it) => it !== "").join(", ") || "no problems";
}

/** One item in the status bar for the chart that is in front: its key, its tempo, its problems. */
export function showStatus(session: Session): Disposable {
  const item = languages.createLanguageStatusItem("plagal.chart", { language: "plagal" });
  item.name = "Chart";
  item.text = "Plagal";
  item.command = { command: "plagal.move", title: "Move", tooltip: "Move the chart to another key" };
  let timer: ReturnType<typeof setTimeout> | undefined;
  let asked = 0;

  const ask = async (editor: TextEditor) => {
    const mine = ++asked;
    const uri = session.client.code2ProtocolConverter.asUri(editor.document.uri);
    try {
      const answer = await askServer(session, "plagal/status", { textDocument: { uri } });
      if (mine !== asked) return;
      const problems = problemsInWords(answer);
      item.text = answer.tempo === "" ? answer.key : `${answer.key}, ${answer.tempo} bpm`;
      item.detail = problems;
      item.severity =
        answer.errors > 0
          ? LanguageStatusSeverity.Error
          : answer.warnings > 0
            ? LanguageStatusSeverity.Warning
            : LanguageStatusSeverity.Information;
      item.accessibilityInformation = { label: `${item.text}, ${problems}` };
    } catch {
      // Ended or restarting: the next change asks again.
    }
  };
  const soon = () => {
    clearTimeout(timer);
    timer = setTimeout(() => {
      const editor = window.activeTextEditor;
      if (editor?.document.languageId === "plagal") void ask(editor);
    }, rest);
  };
  const isActive = (uri: string) => window.activeTextEditor?.document.uri.toString() === uri;
  const listeners = [
    window.onDidChangeActiveTextEditor(soon),
    workspace.onDidChangeTextDocument(({ document }) => {
      if (isActive(document.uri.toString())) soon();
    }),
    languages.onDidChangeDiagnostics(({ uris }) => {
      if (uris.some((uri) => isActive(uri.toString()))) soon();
    }),
  ];
  soon();
  return {
    dispose() {
      clearTimeout(timer);
      for (const it of [item, ...listeners]) it.dispose();
    },
  };
}
