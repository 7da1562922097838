import type { Chart } from "../chart/model.js";
import { base64 } from "../text/base64.js";
import { sha256 } from "../text/sha-256.js";
import { encodeUtf8 } from "../text/utf8.js";
import { type Key, practical, practicalKeys, prettyKey } from "../theory/key.js";
import { pitchClass } from "../theory/note-name.js";
import { element, html } from "./markup.js";
import type { PageView } from "./page-data.js";
import { desk, footer, shelf } from "./page-furniture.js";
import { pageHead } from "./page-head.js";
import { type Differences, differences, type Json } from "./page-keys.js";
import { mostColumns, type PageHead, sheet } from "./page-sheet.js";
import { pageStyle } from "./page-style.js";
import { pageView } from "./page-view.js";
import { type PerformanceOptions, perform } from "./performance.js";

/** What every page holds and no chart changes; it is made by the build. */
export interface PageAssets {
  /** The program of the page, one script. */
  readonly script: string;
  /** Sound files of single piano notes in base64, by MIDI number. */
  readonly piano: Readonly<Record<string, string>>;
  /** Where the notes come from, as their licence asks. */
  readonly credit: string;
}

export interface PageOptions extends PerformanceOptions {
  readonly assets: PageAssets;
  /** The chart moved to another tonic as a move of its text does; `undefined` where it can't be moved. */
  readonly moved: (tonic: number) => Chart | undefined;
}

/** All that the program of a page reads. */
export interface PageContent {
  readonly head: PageHead;
  /** As MIDI files name it; `null` without one. */
  readonly title: string | null;
  readonly view: PageView;
  readonly keys: readonly PageKey[];
  /** An index of `keys`: the key in which the chart stands. */
  readonly home: number;
  readonly piano: Readonly<Record<string, string>>;
}

/** A key that a page plays in: how its view differs from that of the home key, or where that is not enough the view itself. */
export type PageKey = { readonly name: string } & (
  | { readonly differences: Differences }
  | { readonly view: PageView }
);

export interface Page {
  readonly text: string;
  readonly bars: number;
  readonly cut: boolean;
}

/** The chart as one HTML file that shows and plays itself in all keys, with nothing beside it. */
export function page(chart: Chart, { assets, moved, ...options }: PageOptions): Page {
  const { header } = chart;
  const view = (of: Chart): { readonly view: PageView; readonly bars: number; readonly cut: boolean } => {
    const performance = perform(of, { ...options, balance: true });
    return { view: pageView(of, performance), bars: performance.bars.length, cut: performance.cut };
  };
  const own = view(chart);
  const keys: PageKey[] = [];
  let home = 0;
  for (const it of practicalKeys(header.home.key.mode)) {
    if (pitchClass(it.tonic) === pitchClass(header.home.key.tonic)) {
      home = keys.length;
      keys.push({ name: prettyKey(header.home.key), differences: {} });
      continue;
    }
    const key = practical(it, header.original ?? header.home.key.tonic);
    const other = moved(key.tonic);
    if (other !== undefined) keys.push(pageKey(key, own.view, view(other).view));
  }
  const content: PageContent = {
    head: pageHead(header),
    title: header.title ?? null,
    view: own.view,
    keys,
    home,
    piano: assets.piano,
  };
  return { text: pageText(content, assets), bars: own.bars, cut: own.cut };
}

function pageKey(key: Key, from: PageView, to: PageView): PageKey {
  const name = prettyKey(key);
  const by = differences(from as unknown as Json, to as unknown as Json);
  return by === undefined ? { name, view: to } : { name, differences: by };
}

const digest = (text: string): string => `'sha256-${base64(sha256(encodeUtf8(text)))}'`;

function pageText(content: PageContent, { script, credit }: PageAssets): string {
  const { head, view } = content;
  const bars = view.sections.flatMap(({ systems }) => systems.flatMap((it) => it.bars));
  const rows = view.sections.flatMap(({ systems }) => systems.flatMap((it) => it.rows));
  const style = pageStyle(
    Math.min(mostColumns, greatest(bars.map(({ columns }) => columns))),
    greatest(view.sections.flatMap(({ systems }) => systems.map((it) => it.rows.length))),
    greatest(rows.map(({ lines }) => lines)),
  );
  const policy = [
    "default-src 'none'",
    `script-src ${digest(script)}`,
    `style-src ${digest(style)}`,
    "media-src data:",
    "base-uri 'none'",
    "form-action 'none'",
    "require-trusted-types-for 'script'",
    "trusted-types 'none'",
  ].join("; ");
  // In the text of a script nothing but `<` could end it; in JSON it may stand as a number.
  const json = JSON.stringify(content).replaceAll("<", "\\u003c");
  return [
    "<!DOCTYPE html>",
    '<html lang="en">',
    "<head>",
    '<meta charset="utf-8">',
    html(element("meta", { "http-equiv": "Content-Security-Policy", content: policy })),
    '<meta name="viewport" content="width=device-width, initial-scale=1">',
    '<meta name="referrer" content="no-referrer">',
    html(element("title", {}, head.title)),
    `<style>${style}</style>`,
    "</head>",
    "<body>",
    html(element("a", { class: "skip", href: "#player" }, "To the player")),
    html(desk(content)),
    html(element("main", { id: "chart" }, sheet(head, view))),
    html(shelf()),
    html(footer(credit)),
    `<script type="application/json" id="content">${json}</script>`,
    `<script>${script}</script>`,
    "</body>",
    "</html>",
    "",
  ].join("\n");
}

const greatest = (all: readonly number[]): number => all.reduce((most, it) => Math.max(most, it), 1);
