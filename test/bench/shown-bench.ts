import type { Page } from "playwright-core";
import { openDocument } from "../../server/src/document/document.js";
import type { ToPage } from "../../server/src/page/messages.js";
import { type BareBrowser, startBrowser } from "../page/bare-browser.js";
import { cursorAt, openLive } from "../page/live-browser.js";
import { chartOfBars, type ExportRow } from "./exports-bench.js";
import { pageOf, typedInto } from "./live-bench.js";

/** In the page: from a message on its way to the frame that shows what it asked for. */
const measuring = `
  window.frameShown = () => new Promise((resolve) => requestAnimationFrame(() => {
    // What is posted in a frame's callback comes after that frame was drawn.
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = () => resolve(performance.now());
    port2.postMessage(0);
  }));
  window.measure = async (message) => {
    await frameShown();
    const start = performance.now();
    const handled = new Promise((resolve) => addEventListener("message", () => resolve(performance.now()), { once: true }));
    postMessage(message, "*");
    const worked = await handled;
    return { worked: worked - start, shown: (await frameShown()) - start };
  };`;

interface Measured {
  /** Milliseconds of the page's script. */
  readonly worked: number;
  /** Milliseconds until it is on the screen. */
  readonly shown: number;
}

const measure = (page: Page, message: ToPage): Promise<Measured> =>
  page.evaluate<Measured>(`measure(${JSON.stringify(message)})`);

/** Edits and cursors of a chart of so many bars in a browser. */
async function inBrowser(
  browser: BareBrowser,
  bars: number,
  edits: number,
): Promise<{ readonly first: Measured; readonly edited: Measured[]; readonly marked: Measured[] }> {
  const live = await openLive(browser, { context: { viewport: { width: 620, height: 800 } } });
  const { page } = live;
  await page.evaluate(measuring);
  let document = openDocument("bench.plagal", chartOfBars(1500, bars));
  let version = 0;
  const chart = (): ToPage => ({
    kind: "chart",
    uri: "memory:/bench.plagal",
    version: ++version,
    chart: pageOf(document),
    keys: [],
    key: undefined,
    pinned: false,
  });
  const first = await measure(page, chart());
  // What is drawn while nobody looks is not what is timed here.
  await page.waitForFunction(
    "[...document.querySelectorAll('.system')].every((it) => it.firstChild !== null)",
  );
  const edited: Measured[] = [];
  for (let i = 0; i < edits; i++) {
    const text = typedInto(document.text, i);
    document = openDocument("bench.plagal", text, undefined, undefined, document);
    edited.push(await measure(page, chart()));
  }
  const places = pageOf(document).bars;
  const marked: Measured[] = [];
  for (let i = 0; i < edits; i++) {
    const { from } = places[(i * 7919) % places.length] ?? { from: 0 };
    marked.push(await measure(page, cursorAt(version, from + 1)));
  }
  await page.context().close();
  return { first, edited: edited.slice(2), marked: marked.slice(2) };
}

/** What somebody who types sees of it, in a real browser. */
export async function measureShown(): Promise<readonly ExportRow[]> {
  const browser = await startBrowser();
  try {
    const short = await inBrowser(browser, 32, 22);
    const long = await inBrowser(browser, 500, 12);
    const of = (all: readonly Measured[], what: keyof Measured): number[] => all.map((it) => it[what]);
    return [
      { name: "page of 32 bars, an edit shown", milliseconds: of(short.edited, "shown"), goal: 100 },
      { name: "  its script alone", milliseconds: of(short.edited, "worked"), goal: 16 },
      { name: "  the cursor's bar marked", milliseconds: of(short.marked, "shown"), goal: 50 },
      { name: "page of 500 bars, first shown", milliseconds: [long.first.shown], goal: 1000 },
      { name: "  an edit shown", milliseconds: of(long.edited, "shown"), goal: 200 },
      { name: "  its script alone", milliseconds: of(long.edited, "worked"), goal: 100 },
      { name: "  the cursor's bar marked", milliseconds: of(long.marked, "shown"), goal: 50 },
    ];
  } finally {
    await browser.stop();
  }
}
