import { existsSync, readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import type { BrowserContextOptions } from "playwright-core";
import { openDocument } from "../../server/src/document/document.js";
import type { Live } from "../../server/src/exports/live.js";
import { keyChoices } from "../../server/src/features/keys.js";
import { livePage } from "../../server/src/features/live-page.js";
import { wholeChart } from "../../server/src/features/scope.js";
import type { FromPage, PageState, ToPage } from "../../server/src/page/messages.js";
import { root } from "../support/root.js";
import type { BareBrowser, OpenPage } from "./bare-browser.js";

const { live } = createRequire(import.meta.url)(join(root, "dist/live.cjs")) as { readonly live: Live };

export interface ShowOptions {
  readonly key?: string;
  readonly uri?: string;
  /** For an engraver too. */
  readonly staff?: boolean;
}

/** A page beside a text, with a stand-in for the editor that it talks to. */
export interface LivePage extends OpenPage {
  /** Shows a version of the chart; the last one counts up by itself. */
  readonly show: (text: string, options?: ShowOptions) => Promise<void>;
  readonly tell: (message: ToPage) => Promise<void>;
  /** What the page has told the editor so far. */
  readonly told: () => Promise<readonly FromPage[]>;
  readonly state: () => Promise<PageState>;
  readonly version: () => number;
}

/** What the editor's document of a page is, as far as it matters here, with the same policy. */
const html = (script: string, theme: string, engraver: string, policy: string): string =>
  [
    "<!DOCTYPE html>",
    `<html lang="en"><head><meta charset="utf-8">${policy}<title>Chart</title></head>`,
    `<body class="${theme}" data-engraver="${engraver}">`,
    `<script>${script.replaceAll("</script", "<\\/script")}</script>`,
    "</body></html>",
  ].join("\n");

const editor = (state: Partial<PageState>): string => `
  window.toldByPage = [];
  window.keptState = ${JSON.stringify(state)};
  window.acquireVsCodeApi = () => ({
    postMessage: (message) => window.toldByPage.push(message),
    getState: () => window.keptState,
    setState: (state) => { window.keptState = state; },
  });`;

export interface LiveOptions {
  /** The class that the editor gives the page. */
  readonly theme?: string;
  readonly kept?: Partial<PageState>;
  readonly context?: BrowserContextOptions;
  /** A script that runs before the page's own. */
  readonly before?: string;
  /** The address of the engraver. */
  readonly engraver?: string;
  /** A content policy; none unless it is given. */
  readonly policy?: string;
  /** The whole document in place of the usual one; it loads what it asks for at `extensionUrl`. */
  readonly document?: string;
}

/** In place of the recorded piano, which a page from `file:` can't fetch: there is none, so that a made-up tone plays. */
export const noPiano = `window.fetch = async (address) => {
  if (!/\\d+\\.mp3$/.test(address)) throw new Error("fetched: " + address);
  return new Response(null, { status: 404 });
};`;

/** Where the engraver is, for a page; what is asked for there comes from the build. */
export const extensionUrl = "https://extension.test";
export const engraverUrl = `${extensionUrl}/verovio-toolkit-wasm.js`;
export const engraverFile = join(root, "dist/verovio-toolkit-wasm.js");

export async function openLive(
  browser: BareBrowser,
  {
    theme = "vscode-light",
    kept = {},
    context = {},
    before = "",
    engraver = engraverUrl,
    policy,
    document,
  }: LiveOptions = {},
): Promise<LivePage> {
  const policyTag =
    policy === undefined ? "" : `<meta http-equiv="Content-Security-Policy" content="${policy}">`;
  const script = readFileSync(join(root, "dist/live-page.js"), "utf8");
  const open = await browser.open(
    document ?? html(script, theme, engraver, policyTag),
    context,
    editor(kept) + before,
    (page) =>
      page.route(`${extensionUrl}/**`, (route, request) => {
        const path = join(root, "dist", new URL(request.url()).pathname);
        if (existsSync(path)) return route.fulfill({ path });
        return route.abort();
      }),
  );
  const { page } = open;
  let version = 0;
  const tell = async (message: ToPage): Promise<void> => {
    // The second frame comes after whatever the message has drawn.
    await page.evaluate(`new Promise((resolve) => {
      postMessage(${JSON.stringify(message)}, "*");
      requestAnimationFrame(() => requestAnimationFrame(() => resolve()));
    })`);
  };
  return {
    ...open,
    tell,
    async show(text, { key, uri = "memory:/page.plagal", staff = false } = {}) {
      const document = openDocument("page.plagal", text);
      const chart = livePage(document, key, live, staff);
      if ("refused" in chart) throw new Error(chart.refused);
      const keys = keyChoices(document, wholeChart).map((it) => ({ key: it.key, name: it.name }));
      await tell({ kind: "chart", uri, version: ++version, chart, keys, key, pinned: false });
    },
    told: () => page.evaluate("toldByPage"),
    state: () => page.evaluate("keptState"),
    version: () => version,
  };
}

/** What the editor tells of a cursor with nothing selected. */
export const cursorAt = (version: number, offset: number): ToPage => ({
  kind: "cursor",
  version,
  offset,
  selected: [offset, offset],
});
