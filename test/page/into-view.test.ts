import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { usualLook } from "../../server/src/page/look.js";
import type { Look } from "../../server/src/page/messages.js";
import { type BareBrowser, browserMissing, startBrowser } from "./bare-browser.js";
import { cursorAt, openLive } from "./live-browser.js";

const missing = browserMissing();

/** Words that mark each bar's place in the text. */
const bars = 64;
const chart = [
  "title Long Road",
  "key F",
  "section Walk",
  ...Array.from({ length: bars / 4 }, (_, i) =>
    [
      "chords | 1 | 4 | 5:7 | 1 |",
      "right  | 3+5+1 | 1+3+5 | b7+3+5 | 3+5+1 |",
      "left   | 1 | 1 | 1 | 1 |",
      `words  |${[0, 1, 2, 3].map((n) => ` at${i * 4 + n} `).join("|")}|`,
      "",
    ].join("\n"),
  ),
].join("\n");

describe.skipIf(missing !== undefined)("the bar that is looked for, in a bare browser", () => {
  let browser: BareBrowser;
  beforeAll(async () => {
    browser = await startBrowser();
  });
  afterAll(() => browser.stop());

  /** Waits until the bar stands whole on the screen, and nothing lies over any corner of it. */
  const seen = (page: Page, bar: number): Promise<void> =>
    page
      .waitForFunction(
        `(() => {
          const bar = document.querySelector("#b0-${bar}.here");
          if (bar === null) return false;
          const { left, right, top, bottom } = bar.getBoundingClientRect();
          if (top < -1 || bottom > innerHeight + 1 || left < 0 || right > innerWidth) return false;
          const corners = [[left, top], [right, top], [left, bottom], [right, bottom]];
          const inward = ([x, y]) => [x + (x === left ? 4 : -4), y + (y === top ? 4 : -4)];
          return corners.map(inward).every(([x, y]) => bar.contains(document.elementFromPoint(x, y)));
        })()`,
      )
      .then(() => undefined);

  describe.each(["names", "keyboards", "staff"] as const)("with the hands as %s", (hands) => {
    test.each([
      ["on the stand", true, 1000, "reduce"],
      ["on a stand that is hardly higher than a bar", true, 560, "reduce"],
      ["on the stand, moving there", true, 1000, "no-preference"],
      ["above the shelf", false, 1000, "reduce"],
    ] as const)("%s it is seen whole", async (_, stand, height, reducedMotion) => {
      const look: Look = { ...usualLook, hands, stand };
      const live = await openLive(browser, {
        context: { viewport: { width: 760, height }, reducedMotion },
        kept: { look },
      });
      const { page } = live;
      await live.show(chart, { staff: hands === "staff" });
      await page.locator(".sheet:not([aria-busy])").waitFor();
      for (const bar of [1, 6, 13, 20, 40, 63, 61, 50, 22, 3, 0]) {
        await live.tell(cursorAt(1, chart.indexOf(`at${bar} `)));
        await seen(page, bar);
      }
      expect(live.errors).toEqual([]);
      await page.context().close();
    });
  });

  test("on the stand the first bar of a page that was elsewhere is brought there while it plays", async () => {
    const live = await openLive(browser, {
      context: { viewport: { width: 760, height: 700 }, reducedMotion: "reduce" },
      kept: { look: { ...usualLook, stand: true } },
    });
    const { page } = live;
    await live.show(chart);
    await live.tell(cursorAt(1, chart.indexOf("at40 ")));
    await seen(page, 40);
    await live.tell({ kind: "play", from: "here" });
    await page.locator("html[data-playing=true]").waitFor();
    await page.waitForFunction(`(() => {
      const { top, bottom } = document.querySelector(".now").getBoundingClientRect();
      return top >= -1 && bottom <= innerHeight + 1;
    })()`);
    await page.context().close();
  });
});
