import { type TextEditor, window } from "vscode";

/** The editor with the chart that a command is about; says so and gives `undefined` where there is none. */
export function activeChart(): TextEditor | undefined {
  const editor = window.activeTextEditor;
  if (editor?.document.languageId === "plagal") return editor;
  void window.showInformationMessage("Open a chart first: this works on the chart that you are in.");
  return undefined;
}
