/*
 * As much of the editor as the page beside the text needs, for the bench: what the extension's code calls is there and
 * costs nothing. The build of the bench puts it in the place of the module `vscode`.
 */

type Listener = (event: never) => void;

class Event {
  readonly listeners = new Set<Listener>();
  readonly on = (listener: Listener): { dispose(): void } => {
    this.listeners.add(listener);
    return { dispose: () => void this.listeners.delete(listener) };
  };
  fire(event: unknown): void {
    for (const listener of this.listeners) listener(event as never);
  }
}

export const changed = new Event();
export const selected = new Event();
export const closed = new Event();
const none = new Event();

export class Uri {
  constructor(readonly text: string) {}
  static parse = (text: string): Uri => new Uri(text);
  static joinPath = (uri: Uri, ...parts: readonly string[]): Uri => new Uri([uri.text, ...parts].join("/"));
  get path(): string {
    return this.text.replace(/^\w+:/, "");
  }
  toString(): string {
    return this.text;
  }
}

export class Range {}
export class Selection {}
export class ThemeColor {}
export const TextEditorRevealType = { InCenterIfOutsideViewport: 2 };
export const ViewColumn = { Beside: -2, One: 1, Two: 2 };

/** The document that is typed in. */
export const document = {
  uri: new Uri("file:/bench.plagal"),
  languageId: "plagal",
  version: 1,
  offsetAt: () => 200,
};
const editor = { document, selection: { active: {} }, setDecorations: () => undefined };

/** The page: what it is sent is written out, as the editor does with it. */
export const panel = {
  webview: {
    html: "",
    options: {},
    cspSource: "'self'",
    asWebviewUri: (uri: Uri) => uri,
    onDidReceiveMessage: (listener: Listener) => {
      panel.tell = listener as (message: unknown) => void;
    },
    postMessage: (message: { readonly kind: string }) => panel.posted(message.kind, JSON.stringify(message)),
  },
  tell: (_: unknown): void => undefined,
  posted: (_kind: string, _text: string): void => undefined,
  visible: true,
  title: "",
  iconPath: {},
  onDidChangeViewState: none.on,
  onDidDispose: closed.on,
  reveal: () => undefined,
  dispose: () => undefined,
};

export const window = {
  createTextEditorDecorationType: () => ({}),
  createWebviewPanel: () => panel,
  visibleTextEditors: [editor],
  activeTextEditor: editor,
  onDidChangeTextEditorSelection: selected.on,
  onDidChangeTextEditorVisibleRanges: none.on,
};
export const workspace = {
  onDidChangeTextDocument: changed.on,
  openTextDocument: async () => document,
};

/** Somebody typed a character: what the editor tells of it. */
export function type(): void {
  document.version++;
  changed.fire({ document, contentChanges: [{}] });
  selected.fire({ textEditor: editor });
}
