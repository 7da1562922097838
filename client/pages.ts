import { type Disposable, type TextDocument, type WebviewPanel, window } from "vscode";
import type { PageState, PlayFrom } from "../server/src/page/messages.js";
import { newPanel, openPage, type PagePanel, pageType } from "./page-panel.js";
import type { Connected } from "./session.js";

/** The pages beside the text: one for a chart, and one that turns to whatever chart is in front unless it is pinned. */
export interface Pages extends Disposable {
  /** The page of a chart, opened where there is none; the keyboard stays in the text. */
  readonly show: (document: TextDocument) => void;
  /** Plays a chart on its page, which takes the keyboard: a browser lets nothing sound before a key or a click. */
  readonly play: (document: TextDocument, from: PlayFrom) => void;
}

export function openPages(connected: Connected): Pages {
  const pages = new Set<PagePanel>();

  function keep(panel: WebviewPanel, state: Pick<PageState, "uri" | "pinned">): PagePanel {
    const page = openPage(connected, panel, state);
    pages.add(page);
    page.closed(() => pages.delete(page));
    return page;
  }

  const pageOf = ({ uri }: TextDocument): PagePanel | undefined =>
    [...pages].find((page) => page.uri().toString() === uri.toString());
  const free = (): PagePanel | undefined => [...pages].find((page) => !page.isPinned());

  function pageFor(document: TextDocument): PagePanel {
    const own = pageOf(document);
    if (own !== undefined) return own;
    const other = free();
    other?.turnTo(document);
    return other ?? keep(newPanel(connected), { uri: document.uri.toString(), pinned: false });
  }

  const listeners: readonly Disposable[] = [
    window.onDidChangeActiveTextEditor((editor) => {
      const document = editor?.document;
      if (document?.languageId === "plagal" && pageOf(document) === undefined) free()?.turnTo(document);
    }),
    window.registerWebviewPanelSerializer(pageType, {
      async deserializeWebviewPanel(panel, kept: Partial<PageState> | undefined) {
        if (typeof kept?.uri !== "string" || kept.uri === "") panel.dispose();
        else keep(panel, { uri: kept.uri, pinned: kept.pinned === true });
      },
    }),
  ];
  return {
    show: (document) => pageFor(document).reveal(false),
    play(document, from) {
      const page = pageFor(document);
      page.reveal(true);
      page.play(from);
    },
    dispose() {
      for (const it of [...listeners, ...pages]) it.dispose();
    },
  };
}
