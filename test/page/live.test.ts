import { mkdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type BareBrowser, browserMissing, startBrowser } from "./bare-browser.js";
import { type LivePage, openLive } from "./live-browser.js";

const missing = browserMissing();
const harbour = readFileSync("test/charts/harbour-evening.plagal", "utf8");

/** A chart of so many bars, four to a line. */
const long = (bars: number): string =>
  [
    "title Long Road",
    "key F",
    "tempo 80",
    "section Walk",
    ...Array.from(
      { length: bars / 4 },
      () => "chords | 1 | 4 | 5:7 | 1 |\nright  | 3+5+1 | 1+3+5 | 7+3+5 | 3+5+1 |\n",
    ),
  ].join("\n");

describe.skipIf(missing !== undefined)("the page beside the text, in a bare browser", () => {
  let browser: BareBrowser;
  beforeAll(async () => {
    browser = await startBrowser();
  });
  afterAll(() => browser.stop());

  async function close({ page, errors, requests }: LivePage): Promise<void> {
    expect(errors).toEqual([]);
    expect(requests).toEqual([]);
    await page.context().close();
  }

  test("looks", async () => {
    const live = await openLive(browser, { context: { viewport: { width: 700, height: 900 } } });
    await live.show(harbour);
    await live.tell({ kind: "cursor", version: 1, offset: harbour.indexOf("| ", 300) + 3 });
    await shot(live.page, "live-light");
    await close(live);
  });
});

async function shot(page: Page, name: string): Promise<void> {
  const folder = process.env.PLAGAL_SCREENS;
  if (!folder) return;
  mkdirSync(folder, { recursive: true });
  await page.screenshot({ path: join(folder, `${name}.png`) });
}
