import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import type { BrowserContextOptions, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type BareBrowser, browserMissing, pageText, startBrowser } from "./bare-browser.js";
import { cursorAt, type LiveOptions, type LivePage, noPiano, openLive } from "./live-browser.js";

const missing = browserMissing();
const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const harbour = readFileSync("test/charts/harbour-evening.plagal", "utf8");
const vamp = readFileSync("test/charts/sunday-vamp.plagal", "utf8");

/** Everything that axe finds wrong, of whatever impact: the rule, how grave it is, and the first element. */
async function wrong(page: Page): Promise<readonly unknown[]> {
  await page.evaluate(axe);
  const found = await page.evaluate<{ id: string; impact: string; nodes: { html: string }[] }[]>(
    "axe.run().then(({ violations }) => violations)",
  );
  return found.map(({ id, impact, nodes }) => [id, impact, nodes[0]?.html]);
}

describe.skipIf(missing !== undefined)("axe finds nothing wrong", () => {
  let browser: BareBrowser;
  beforeAll(async () => {
    browser = await startBrowser();
  });
  afterAll(() => browser.stop());

  const open = (options: LiveOptions = {}): Promise<LivePage> =>
    openLive(browser, {
      before: noPiano,
      ...options,
      context: { bypassCSP: true, viewport: { width: 620, height: 800 }, ...options.context },
    });

  test.each([
    ["light", "vscode-light"],
    ["dark", "vscode-dark"],
    ["high contrast", "vscode-high-contrast"],
    // The editor sets both classes then.
    ["high contrast, light", "vscode-high-contrast vscode-high-contrast-light"],
  ])("on the page beside the text, %s", async (_name, theme) => {
    for (const chart of [harbour, vamp]) {
      const live = await open({ theme });
      const { page } = live;
      expect(await wrong(page), "before the chart has come").toEqual([]);
      await live.show(chart);
      await live.tell(cursorAt(1, chart.indexOf("|") + 2));
      expect(await wrong(page), "the chart").toEqual([]);
      await page.locator("summary").click();
      expect(await wrong(page), "settings open").toEqual([]);
      await page.locator(".no").first().click();
      await page
        .locator(".no")
        .nth(1)
        .click({ modifiers: ["Shift"] });
      await page.locator("#play").click();
      expect(await wrong(page), "playing, with bars marked").toEqual([]);
      await page.locator("#stand").click();
      expect(await wrong(page), "on the stand").toEqual([]);
      await page.context().close();
    }
  });

  test.each(["light", "dark"] as const)("on paper that is %s against the editor's theme", async (paper) => {
    const look = { chords: "numbers", hands: "keyboards", paper, size: 150, stand: false } as const;
    const theme = paper === "light" ? "vscode-dark" : "vscode-light";
    const live = await open({ theme, kept: { look } });
    await live.show(vamp);
    await live.page.locator("summary").click();
    expect(await wrong(live.page)).toEqual([]);
    await live.page.context().close();
  });

  test("on a narrow page, and on one where nothing is written yet", async () => {
    const live = await open({ context: { viewport: { width: 320, height: 600 } } });
    await live.show(harbour);
    expect(await wrong(live.page)).toEqual([]);
    await live.show("");
    expect(await wrong(live.page)).toEqual([]);
    await live.page.context().close();
    const none = await open();
    await none.tell({ kind: "nothing", words: "There is nothing to show yet." });
    expect(await wrong(none.page)).toEqual([]);
    await none.page.context().close();
  });

  test.each<[string, BrowserContextOptions]>([
    ["light", { colorScheme: "light" }],
    ["dark", { colorScheme: "dark" }],
    ["in forced colours", { forcedColors: "active" }],
    ["with more contrast", { contrast: "more" }],
  ])("on the page that plays itself, %s, while it plays", async (_name, options) => {
    const { page } = await browser.open(pageText(vamp), { bypassCSP: true, ...options });
    await page.locator(".no").first().click();
    await page.locator("#play").click();
    await page.locator(".now").waitFor();
    expect(await wrong(page)).toEqual([]);
    await page.context().close();
  });
});
