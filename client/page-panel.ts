import {
  type Disposable,
  type Position,
  Range,
  Selection,
  type TextDocument,
  type TextEditor,
  TextEditorRevealType,
  ThemeColor,
  Uri,
  ViewColumn,
  type WebviewPanel,
  window,
  workspace,
} from "vscode";
import type { FromPage, PageState, PlayFrom, ToPage } from "../server/src/page/messages.js";
import { ask } from "./ask.js";
import { movedOffset, type TextStep } from "./moved-offset.js";
import { pageFolder, pageHtml } from "./page-html.js";
import type { Connected } from "./session.js";
import { writeTempo } from "./write-tempo.js";

export const pageType = "plagal.page";

/** A page beside the text: always the last version of its chart, and always the same place of it. */
export interface PagePanel extends Disposable {
  /** The chart that it shows. */
  readonly uri: () => Uri;
  /** It stays with its chart, whatever chart is in front. */
  readonly isPinned: () => boolean;
  /** Brings it to the front of its group; the keyboard stays where it is unless `focus` is true. */
  readonly reveal: (focus: boolean) => void;
  /** Another chart in its place. */
  readonly turnTo: (document: TextDocument) => void;
  readonly play: (from: PlayFrom) => void;
  readonly closed: (run: () => void) => void;
}

/** What sounds, in the text; a mark at the side for whoever sees no colours. */
const soundingMark = window.createTextEditorDecorationType({
  backgroundColor: new ThemeColor("editor.wordHighlightStrongBackground"),
  border: "1px solid",
  borderColor: new ThemeColor("editor.wordHighlightStrongBorder"),
  overviewRulerColor: new ThemeColor("editorOverviewRuler.wordHighlightStrongForeground"),
});

/** How long a view of the text that changes right after our own move of it is our doing, in milliseconds. */
const ownMove = 400;
/** Steps of a text that are kept for a page which shows it as it was before: more than are typed while one is drawn. */
const mostSteps = 200;

const isInSight = ({ visibleRanges }: TextEditor, range: Range): boolean =>
  visibleRanges.some((it) => it.contains(range));

export const newPanel = ({ context: { extensionUri } }: Connected): WebviewPanel =>
  window.createWebviewPanel(
    pageType,
    "Page",
    { viewColumn: ViewColumn.Beside, preserveFocus: true },
    pageOptions(extensionUri),
  );

const pageOptions = (extensionUri: Uri) => ({
  enableScripts: true,
  localResourceRoots: [pageFolder(extensionUri)],
  // So that it goes on playing behind another tab.
  retainContextWhenHidden: true,
});

/** Fills a panel, new or left from before a reload, with the page of a chart. */
export function openPage(
  connected: Connected,
  panel: WebviewPanel,
  { uri: first, pinned }: Pick<PageState, "uri" | "pinned">,
): PagePanel {
  const { context, client } = connected;
  let uri = Uri.parse(first, true);
  let isPinned = pinned;
  let key: string | undefined;
  let staff = false;
  let isReady = false;
  let isAsking = false;
  let isStale = false;
  let isClosed = false;
  let waitingToPlay: PlayFrom | undefined;
  /** While it plays the text follows, until somebody scrolls it. */
  let follows = false;
  let isSounding = false;
  let movedAt = 0;
  /** What was changed last: a page that is pressed may still show the text from before. */
  let steps: readonly TextStep[] = [];
  /** What sounded last where the text followed: it is in sight there unless somebody has scrolled. */
  const followed = new Map<TextEditor, Range>();

  const post = (message: ToPage): void => void panel.webview.postMessage(message);
  const isOurs = (document: TextDocument): boolean => document.uri.toString() === uri.toString();
  const editors = (): readonly TextEditor[] =>
    window.visibleTextEditors.filter(({ document }) => isOurs(document));

  function nameIt(): void {
    const name = uri.path.split("/").pop() ?? "";
    panel.title = `Page: ${name.replace(/\.plagal$/, "")}`;
  }

  /** Shows the last version: one question at a time, and another one if the text has changed meanwhile. */
  async function refresh(): Promise<void> {
    isStale = true;
    if (!isReady || isAsking || !panel.visible) return;
    isAsking = true;
    try {
      while (isStale && !isClosed) {
        isStale = false;
        await showLast();
      }
    } finally {
      isAsking = false;
    }
  }

  async function showLast(): Promise<void> {
    const asked = uri;
    try {
      const document = await workspace.openTextDocument(asked);
      const name = client.code2ProtocolConverter.asUri(asked);
      const params = {
        textDocument: { uri: name },
        ...(key === undefined ? {} : { key }),
        ...(staff ? { staff } : {}),
      };
      const answer = await ask(connected, "plagal/page", params);
      if (asked !== uri || isClosed) {
        isStale = true;
        return;
      }
      if (answer === null) return;
      const { version, chart, keys, refused } = answer;
      if (chart === undefined) {
        if (key !== undefined) {
          // It can't be moved there any more.
          key = undefined;
          isStale = true;
        } else post({ kind: "nothing", words: refused ?? "There is nothing to show yet." });
        return;
      }
      if (version !== document.version) isStale = true;
      post({ kind: "chart", uri: asked.toString(), version, chart, keys, key, pinned: isPinned });
      const editor = window.activeTextEditor ?? editors()[0];
      if (editor !== undefined) showCursor(editor);
      if (waitingToPlay !== undefined) post({ kind: "play", from: waitingToPlay });
      waitingToPlay = undefined;
    } catch (error) {
      // Changed meanwhile: what changed it has asked for another look. Or the server ended, and starts again.
      if (isStale || isClosed) return;
      const words = error instanceof Error ? error.message : String(error);
      post({ kind: "nothing", words: `The chart can't be shown: ${words}` });
    }
  }

  function showCursor({ document, selection }: TextEditor): void {
    if (!isOurs(document) || !isReady) return;
    post({
      kind: "cursor",
      version: document.version,
      offset: document.offsetAt(selection.active),
      selected: [document.offsetAt(selection.start), document.offsetAt(selection.end)],
    });
  }

  /** Puts the cursor where something that was pressed stands in the text. */
  async function go(version: number, offset: number, focus: boolean): Promise<void> {
    const document = await workspace.openTextDocument(uri);
    const there = editors()[0];
    const place = document.positionAt(movedOffset(offset, version, steps));
    const selection = new Selection(place, place);
    if (there === undefined || focus) {
      const beside = panel.viewColumn === ViewColumn.One ? ViewColumn.Two : ViewColumn.One;
      const viewColumn = there?.viewColumn ?? beside;
      await window.showTextDocument(document, { viewColumn, preserveFocus: !focus, selection });
      return;
    }
    there.selection = selection;
    there.revealRange(selection, TextEditorRevealType.InCenterIfOutsideViewport);
  }

  function showSounding(version: number, spans: readonly (readonly [number, number])[]): void {
    // However the text was scrolled before, it is followed from the start.
    if (spans.length > 0 && !isSounding) {
      follows = true;
      followed.clear();
    }
    isSounding = spans.length > 0;
    for (const editor of editors()) {
      const { document } = editor;
      const ranges = spans.map(([from, to]) => {
        const [start, end] = [from, to].map((it) => document.positionAt(movedOffset(it, version, steps)));
        return new Range(start as Position, end as Position);
      });
      editor.setDecorations(soundingMark, ranges);
      const [range] = ranges;
      if (range === undefined) continue;
      const before = followed.get(editor);
      // Scrolled while our own move was still on its way.
      if (before !== undefined && !isOwnMove() && !isInSight(editor, before)) follows = false;
      if (!follows) continue;
      followed.set(editor, range);
      const isSeen = isInSight(editor, range);
      // What is in sight isn't known for sure while a move is on its way.
      if (isSeen && !isOwnMove()) continue;
      if (!isSeen) movedAt = Date.now();
      editor.revealRange(range, TextEditorRevealType.InCenterIfOutsideViewport);
    }
  }

  const isOwnMove = (): boolean => Date.now() - movedAt <= ownMove;

  panel.webview.onDidReceiveMessage((message: FromPage) => {
    switch (message.kind) {
      case "ready":
        isReady = true;
        return void refresh();
      case "go":
        return void go(message.version, message.offset, message.focus);
      case "sounding":
        return showSounding(message.version, message.spans);
      case "key":
        key = message.key;
        return void refresh();
      case "staff":
        staff = message.wanted;
        return void refresh();
      case "pin":
        isPinned = message.pinned;
        return;
      case "tempo":
        return void writeTempo(connected, uri, message.tempo);
    }
  });
  const listeners: readonly Disposable[] = [
    workspace.onDidChangeTextDocument(({ document, contentChanges }) => {
      if (contentChanges.length === 0) return;
      if (isOurs(document)) {
        steps = [...steps, { version: document.version, changes: contentChanges }].slice(-mostSteps);
        // What is known of places is of the text before.
        followed.clear();
      }
      // Another chart may be one that this one uses.
      if (document.languageId === "plagal") void refresh();
    }),
    window.onDidChangeTextEditorSelection(({ textEditor }) => showCursor(textEditor)),
    window.onDidChangeTextEditorVisibleRanges(({ textEditor }) => {
      if (isOurs(textEditor.document) && !isOwnMove()) follows = false;
    }),
    panel.onDidChangeViewState(() => {
      if (panel.visible && isStale) void refresh();
    }),
    client.onDidChangeState(() => void refresh()),
  ];
  let whenClosed: () => void = () => undefined;
  panel.onDidDispose(() => {
    isClosed = true;
    for (const it of listeners) it.dispose();
    for (const editor of editors()) editor.setDecorations(soundingMark, []);
    whenClosed();
  });

  nameIt();
  panel.iconPath = {
    light: Uri.joinPath(context.extensionUri, "client", "media", "file-light.svg"),
    dark: Uri.joinPath(context.extensionUri, "client", "media", "file-dark.svg"),
  };
  panel.webview.options = pageOptions(context.extensionUri);
  panel.webview.html = pageHtml(panel.webview, context.extensionUri);
  return {
    uri: () => uri,
    isPinned: () => isPinned,
    reveal: (focus) => panel.reveal(undefined, !focus),
    turnTo(document) {
      if (isOurs(document)) return;
      uri = document.uri;
      key = undefined;
      steps = [];
      nameIt();
      void refresh();
    },
    play(from) {
      if (isReady && !isStale && !isAsking) post({ kind: "play", from });
      else waitingToPlay = from;
    },
    closed(run) {
      whenClosed = run;
    },
    dispose: () => panel.dispose(),
  };
}
