import { meterText } from "../chart/beat-name.js";
import type { Chart } from "../chart/model.js";
import { base64 } from "../text/base64.js";
import { sha256 } from "../text/sha-256.js";
import { encodeUtf8 } from "../text/utf8.js";
import { visible } from "../text/visible.js";
import { type Key, practical, practicalKeys, prettyKey } from "../theory/key.js";
import { pitchClass } from "../theory/note-name.js";
import { element, html, type Markup } from "./markup.js";
import type { PageView } from "./page-data.js";
import { type Differences, differences, type Json } from "./page-keys.js";
import { mostColumns, type PageHead, sectionName, sheet } from "./page-sheet.js";
import { pageStyle } from "./page-style.js";
import { pageView } from "./page-view.js";
import { type PartName, type PerformanceOptions, perform } from "./performance.js";

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
  const head: PageHead = {
    title: visible(header.title ?? "A chart without a title"),
    by: header.by === undefined ? null : visible(header.by),
    notes: header.notes.map(visible),
    mode: header.home.key.mode,
    facts: [
      meterText(header.meter),
      ...(header.tempo === undefined ? [] : [`${header.tempo} beats a minute`]),
      ...(header.feel === "straight" ? [] : [`${header.feel} feel`]),
    ],
  };
  const content: PageContent = {
    head,
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

const button = (id: string, words: string, more: Readonly<Record<string, string>> = {}): Markup =>
  element("button", { type: "button", class: "act", id, ...more }, words);

export const partWords: Readonly<Record<PartName, string>> = {
  lead: "Melody",
  right: "Right hand",
  left: "Left hand",
  bass: "Bass",
  comping: "Chords",
};

/** What is set once: key, loop, who plays. */
function desk({ view, keys, home }: PageContent): Markup {
  const option = (value: string, words: string, isChosen = false): Markup =>
    element("option", { value, selected: isChosen ? "" : undefined }, words);
  const played = new Set(view.sound.bars.section);
  const parts = view.sound.parts.map(({ name }) => name);
  return element(
    "section",
    { class: "desk", "aria-label": "Settings" },
    element(
      "form",
      {},
      element(
        "label",
        {},
        "Key ",
        element(
          "select",
          { id: "key", autocomplete: "off" },
          ...keys.map(({ name }, i) => option(String(i), name, i === home)),
        ),
      ),
      element(
        "label",
        {},
        "Loop ",
        element(
          "select",
          { id: "loop", autocomplete: "off" },
          option("", "nothing", true),
          ...view.sections.flatMap((section, i) =>
            played.has(i) ? [option(String(i), sectionName(section))] : [],
          ),
          option("marked", "the marked bars"),
        ),
      ),
      ...(parts.length === 0
        ? []
        : [
            element(
              "fieldset",
              {},
              element("legend", {}, "Who plays "),
              ...parts.map((name) => button(`part-${name}`, partWords[name], { "aria-pressed": "true" })),
              ...(parts.length < 2
                ? []
                : [
                    element(
                      "label",
                      {},
                      "Alone ",
                      element(
                        "select",
                        { id: "alone", autocomplete: "off" },
                        option("", "nobody", true),
                        ...parts.map((name) => option(name, partWords[name])),
                      ),
                    ),
                  ]),
            ),
          ]),
      button("save", "Save MIDI"),
      button("print", "Print"),
    ),
  );
}

/** The keyboard under the sheet, and what is done while it plays. */
const shelf = (): Markup =>
  element(
    "section",
    { class: "shelf", id: "player", "aria-label": "Player", tabindex: "-1" },
    element("figure", { id: "picture" }, element("figcaption", { id: "caption" }, "")),
    button("play", "Play", { class: "act play", "aria-keyshortcuts": "Space" }),
    button("start", "From the start"),
    element(
      "div",
      { class: "pace", role: "group", "aria-label": "Pace" },
      button("slower", "Slower"),
      element("output", { id: "pace" }, ""),
      button("faster", "Faster"),
    ),
    element("span", { class: "where", id: "where" }, ""),
    element("p", { class: "vh", role: "status", id: "said" }, ""),
    element(
      "noscript",
      {},
      "Scripts are switched off: the chart can be read and printed, and it can't play.",
    ),
  );

const footer = (credit: string): Markup =>
  element(
    "footer",
    {},
    element(
      "p",
      { class: "screen" },
      "Space plays and stops. Tab to a bar’s number, then the arrow keys go from bar to bar; Enter plays from there, Shift and Enter marks up to there.",
    ),
    element("p", { class: "screen" }, credit),
    element("p", {}, "Made with Plagal. Stop where it hurts; warm up, and rest between turns."),
  );
