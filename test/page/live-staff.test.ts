import { mkdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { usualLook } from "../../server/src/page/look.js";
import { sampleCharts } from "../support/sample-charts.js";
import { type BareBrowser, browserMissing, startBrowser } from "./bare-browser.js";
import { type LiveOptions, type LivePage, openLive } from "./live-browser.js";

const missing = browserMissing();
const chart = (name: string): string => readFileSync(`test/charts/${name}`, "utf8");
const wide = { viewport: { width: 760, height: 1100 } };

describe.skipIf(missing !== undefined)("the page beside the text as a staff, in a bare browser", () => {
  let browser: BareBrowser;
  beforeAll(async () => {
    browser = await startBrowser();
  });
  afterAll(() => browser.stop());

  const open = ({ kept = {}, ...options }: LiveOptions = {}): Promise<LivePage> =>
    openLive(browser, {
      context: wide,
      kept: { look: { ...usualLook, hands: "staff" }, ...kept },
      ...options,
    });

  test("engraves every sample", async () => {
    const live = await open();
    for (const name of sampleCharts) {
      await live.show(chart(name), { staff: true, uri: name });
      await live.page.locator(".sheet[aria-busy=false]").waitFor();
      await shot(live.page, `staff-${name.replace("/", "-")}`);
    }
    expect(live.errors).toEqual([]);
    await live.page.context().close();
  }, 240_000);
});

async function shot(page: Page, name: string): Promise<void> {
  const folder = process.env.PLAGAL_SCREENS;
  if (!folder) return;
  mkdirSync(folder, { recursive: true });
  await page.screenshot({ path: join(folder, `${name}.png`), fullPage: true });
}
