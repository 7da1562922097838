import type { LiveChart } from "../exports/live-chart.js";
import { element, type Markup } from "../exports/markup.js";
import { button, choice, clickChoice, loopChoice, partChoice, shelf } from "../exports/page-furniture.js";
import { mostColumns } from "../exports/page-sheet.js";
import { livePageStyle, pageStyle } from "../exports/page-style.js";
import type { PartName } from "../exports/performance.js";
import { openBars } from "./bars.js";
import { openCells } from "./cells.js";
import { barAt, placesOf } from "./cursor.js";
import { made, patch } from "./draw.js";
import { byId, say } from "./elements.js";
import { fetchedPiano } from "./fetched-piano.js";
import { handPictures } from "./hand-pictures.js";
import { bringIntoView } from "./into-view.js";
import type { Range } from "./laps.js";
import { openLiveSheet } from "./live-sheet.js";
import { lookControls, openLook, readLook, themeOf } from "./look.js";
import { loopBetween, loopOf, placeOf } from "./loops.js";
import type { FromPage, PageState, PlayFrom, ToPage } from "./messages.js";
import { offsetOf } from "./pressed.js";
import { songOf } from "./song.js";
import { openStaff } from "./staff.js";
import { openStage, type Stage } from "./stage.js";
import { openStand } from "./stand.js";
import { openTempo, tempoControls } from "./tempo.js";

/** What the editor gives the program of a page. */
declare function acquireVsCodeApi(): {
  postMessage(message: FromPage): void;
  getState(): Partial<PageState> | undefined;
  setState(state: PageState): void;
};

type ChartMessage = Extract<ToPage, { kind: "chart" }>;

const editor = acquireVsCodeApi();
const kept = editor.getState() ?? {};
let state: PageState = {
  uri: typeof kept.uri === "string" ? kept.uri : "",
  pinned: kept.pinned === true,
  look: readLook(kept.look),
  top: typeof kept.top === "string" ? kept.top : "",
};
let shown: ChartMessage | undefined;
let stage: Stage | undefined;
/** The last place of the cursor, which may be newer than the chart that is shown. */
let cursor: Extract<ToPage, { kind: "cursor" }> | undefined;
let marked: Element | undefined;
/** The bar of the cursor when it was last shown. */
let cursorBar: string | undefined;

function keep(part: Partial<PageState>): void {
  state = { ...state, ...part };
  editor.setState(state);
}

// The page itself.

const style = new CSSStyleSheet();
style.replaceSync(pageStyle(mostColumns, 64, 64) + livePageStyle);
document.adoptedStyleSheets = [style];

const settings = (message: ChartMessage | undefined): Markup =>
  element(
    "form",
    {},
    choice(
      "key",
      "Key",
      (message?.keys ?? []).map(({ key, name }) => [key, name]),
      message?.key ?? message?.keys[0]?.key,
    ),
    ...lookControls(look === undefined ? state.look : look.look()),
    message === undefined
      ? choice("loop", "Loop", [["", "nothing"]])
      : loopChoice(message.chart.view, chosenIn("loop"), ["selected", "what is selected in the text"]),
    ...(message === undefined ? [] : partChoice(message.chart.view, isPlaying, chosenIn("alone"))),
    ...clickChoice((id) => document.getElementById(id)?.getAttribute("aria-pressed") === "true"),
    tempoControls(),
    button("pin", "Keep to this chart", { "aria-pressed": String(state.pinned) }),
    button("stand", "On the stand"),
  );

const chosenIn = (id: string): string => document.querySelector<HTMLSelectElement>(`#${id}`)?.value ?? "";
const isPlaying = (part: PartName): boolean =>
  document.getElementById(`part-${part}`)?.getAttribute("aria-pressed") !== "false";

let look: ReturnType<typeof openLook> | undefined;
const desk = made(
  element(
    "section",
    { class: "desk", "aria-label": "Settings" },
    element("details", {}, element("summary", {}, "Settings"), settings(undefined)),
  ),
);
const main = made(
  element(
    "main",
    { id: "chart" },
    element("h1", { id: "waiting", "aria-live": "polite" }, "Reading the chart…"),
  ),
);
document.body.append(
  made(element("a", { class: "skip", href: "#player" }, "To the player")),
  desk,
  // Behind what leads to the stand, so that the next Tab finds it.
  made(element("section", { class: "leave", "aria-label": "Stand" }, button("leave", "Leave the stand"))),
  main,
  made(shelf()),
);
const sheet = openLiveSheet(() => sheetChanged());
const staff = openStaff({
  sheet: sheet.element,
  address: document.body.dataset.engraver ?? "",
  look: () => state.look,
  drawBar: (section, bar) => void sheet.bar(section, bar),
  placed: () => barsChanged(),
});
let bars: ReturnType<typeof openBars> | undefined;
let tempo: ReturnType<typeof openTempo> | undefined;

look = openLook(state.look, (value) => {
  const isStaff = value.hands === "staff";
  if (isStaff !== (state.look.hands === "staff")) editor.postMessage({ kind: "staff", wanted: isStaff });
  keep({ look: value });
  if (!isStaff && shown !== undefined) staff.show(shown.chart.view, undefined);
  staff.lookChanged();
  if (shown !== undefined) {
    showSheet(shown.chart);
    sheetChanged();
  }
  stage?.show(true);
});
openStand(
  () => state.look.stand,
  () => look?.set({ stand: false }),
);
addEventListener("click", (event) => {
  const { id } = event.target as Element;
  // The editor's own way with such links scrolls alone, and the next Tab would go on from here.
  if ((event.target as Element).matches(".skip")) byId("player").focus();
  if (id === "stand") {
    look?.set({ stand: true });
    say("On the stand: the arrow keys and Page Down turn, Escape comes back.");
  }
  if (id === "leave") {
    look?.set({ stand: false });
    desk.querySelector("summary")?.focus();
  }
  if (id === "pin") {
    keep({ pinned: !state.pinned });
    byId("pin").setAttribute("aria-pressed", String(state.pinned));
    editor.postMessage({ kind: "pin", pinned: state.pinned });
  }
});
addEventListener("change", ({ target }) => {
  const { id, value } = target as HTMLSelectElement;
  if (id !== "key" || shown === undefined) return;
  editor.postMessage({ kind: "key", key: value === shown.keys[0]?.key ? undefined : value });
  say(`In ${shown.keys.find(({ key }) => key === value)?.name ?? value}.`);
});

// What the editor tells.

addEventListener("message", ({ data }: MessageEvent<ToPage>) => {
  if (data.kind === "chart") showChart(data);
  else if (data.kind === "nothing") showNothing(data.words);
  else if (data.kind === "cursor") {
    cursor = data;
    showCursor(true);
  } else if (data.kind === "play") void play(data.from);
});

function showChart(message: ChartMessage): void {
  const isOther = shown?.uri !== message.uri;
  const { chart } = message;
  const waiting = document.getElementById("waiting");
  waiting?.remove();
  if (!sheet.element.isConnected) main.append(sheet.element);
  if (isOther && shown !== undefined) scrollTo({ top: 0, behavior: "instant" });
  shown = message;
  keep({ uri: message.uri, pinned: message.pinned, ...(isOther && stage !== undefined ? { top: "" } : {}) });
  showSheet(chart);
  staff.show(chart.view, state.look.hands === "staff" ? chart.staff : undefined);
  showSettings(message);
  const song = songOf(chart.view);
  if (stage === undefined) {
    stage = openStage(song, {
      piano: fetchedPiano(document.body.dataset.piano ?? ""),
      theme: () => themeOf(state.look),
      barChanged: tellSounding,
      selected,
    });
    tempo = openTempo(stage, (value) => editor.postMessage({ kind: "tempo", tempo: value }));
    bars = openBars(stage, go);
    const [section = -1, bar = -1] = state.top
      .slice(1)
      .split("-")
      .map((it) => Number.parseInt(it, 10));
    sheet.bar(section, bar)?.scrollIntoView({ block: "start", behavior: "instant" });
  } else {
    stage.setSong(song);
    tempo?.chartChanged();
  }
  sheetChanged();
}

function showSheet(chart: LiveChart): void {
  const pictures = state.look.hands === "keyboards" ? handPictures(chart, themeOf(state.look)) : undefined;
  sheet.show(chart.head, chart.view, pictures);
}

/** What can be chosen follows the chart; what was chosen stays. */
function showSettings(message: ChartMessage): void {
  const chosen = ["loop", "alone"].map((id) => [id, chosenIn(id)] as const);
  const form = desk.querySelector("form");
  if (form !== null) patch(form, settings(message));
  for (const [id, value] of [...chosen, ["key", message.key ?? message.keys[0]?.key ?? ""] as const]) {
    const select = document.querySelector<HTMLSelectElement>(`#${id}`);
    if (select === null) continue;
    select.value = value;
    if (select.selectedIndex < 0) select.value = "";
  }
}

function showNothing(words: string): void {
  if (shown !== undefined) {
    say(words);
    return;
  }
  const waiting = document.getElementById("waiting");
  if (waiting !== null) waiting.textContent = words;
}

function sheetChanged(): void {
  staff.place();
  barsChanged();
}

function barsChanged(): void {
  bars?.sheetChanged();
  stage?.sheetChanged();
  showCursor(false);
}

// Where the cursor is.

function showCursor(isMoved: boolean): void {
  if (shown === undefined || cursor === undefined || cursor.version > shown.version) return;
  const place = barAt(shown.chart.bars, cursor.offset);
  const there = place && sheet.bar(place.section, place.bar, place.pickup);
  if (there !== marked) marked?.classList.remove("here");
  marked = there;
  there?.classList.add("here");
  // Typing in a bar says its place again and again: only another bar may move the page, and none what was kept.
  const name = place && `${place.section} ${place.bar} ${place.pickup}`;
  const isElsewhere = name !== cursorBar && (cursorBar !== undefined || state.top === "");
  // Who selects is looking at the text: the page comes along when that is done.
  const isSelecting = cursor.selected[0] !== cursor.selected[1];
  if (!isSelecting) cursorBar = name;
  if (stage === undefined || place === undefined || !isMoved || !isElsewhere || stage.player.isPlaying())
    return;
  if (there && !isSelecting) bringIntoView(there);
  const from = placeOf(stage.song(), place.section, place.bar, stage.player.position());
  if (from !== undefined) stage.player.seek(from);
  stage.show();
}

/** Puts the cursor of the editor where something that was pressed stands in the text. */
function go(pressed: Element, focus = false): void {
  if (shown === undefined) return;
  const { version } = shown;
  const offset = offsetOf(pressed, shown.chart);
  if (offset !== undefined) editor.postMessage({ kind: "go", version, offset, focus });
}
main.addEventListener("dblclick", (event) => go(event.target as Element, true));
openCells(main, go);

function tellSounding(section: number, bar: number, isPlaying: boolean): void {
  if (shown === undefined) return;
  const spans = isPlaying
    ? placesOf(shown.chart.bars, section, bar).map(({ from, to }) => [from, to] as const)
    : [];
  editor.postMessage({ kind: "sounding", version: shown.version, spans });
}

/** What is selected in the text, as it is played; `undefined` where that is nothing. */
function selected(): Range | undefined {
  if (shown === undefined || stage === undefined || cursor === undefined) return undefined;
  const [from, to] = cursor.selected;
  const touched = shown.chart.bars.filter((it) => it.to > from && it.from < to);
  const inOrder = [...touched].sort((a, b) => a.section - b.section || a.bar - b.bar);
  const [first, last] = [inOrder[0], inOrder.at(-1)];
  return first && last && loopBetween(stage.song(), first, last, stage.player.position());
}

/** Plays what the player asked for in the editor. */
async function play(from: PlayFrom): Promise<void> {
  if (stage === undefined) return;
  const { player } = stage;
  if (from === "start") return stage.playFrom(stage.song().timing.starts[0] ?? 0);
  if (from === "selection") {
    stage.chooseLoop("selected");
    const range = selected();
    return range && stage.playFrom(range.from);
  }
  const place = shown && cursor && barAt(shown.chart.bars, cursor.offset);
  const start = place && placeOf(stage.song(), place.section, place.bar, player.position());
  if (place === undefined || start === undefined) return stage.playFrom(player.position());
  if (from === "here") return stage.playFrom(start);
  const section = loopOf(stage.song(), String(place.section), undefined, start);
  return stage.playFrom(section?.from ?? start, section?.to);
}

// The bar at the top comes back to the top after a reload.
let resting: ReturnType<typeof setTimeout> | undefined;
addEventListener(
  "scroll",
  () => {
    clearTimeout(resting);
    resting = setTimeout(() => {
      const top = [...document.querySelectorAll(".bar")].find((it) => it.getBoundingClientRect().bottom > 0);
      keep({ top: scrollY < 1 ? "" : (top?.id ?? "") });
    }, 200);
  },
  { passive: true },
);

if (state.look.hands === "staff") editor.postMessage({ kind: "staff", wanted: true });
editor.postMessage({ kind: "ready" });
