import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { hostileCharts } from "../support/hostile-charts.js";
import { type BareBrowser, browserMissing, startBrowser } from "./bare-browser.js";
import { cursorAt, type LivePage, noPiano, openLive } from "./live-browser.js";

const missing = browserMissing();
const evil = `</script><script>window.ran=1</script><img src=x onerror=window.ran=2>"'><svg onload=window.ran=3><iframe srcdoc="<script>parent.ran=4</script>"></iframe><a href="javascript:window.ran=5">x</a><style>*{display:none}</style>&lt;&#60;`;
const name = evil.replaceAll('"', "");
const bars = (count: number, bar: string): string => ` |${` ${bar} |`.repeat(count)}`;

const more: ReadonlyArray<readonly [name: string, text: string]> = [
  ["5,000 bars in both hands", `key C\nchords${bars(5000, "1 4")}\nright${bars(5000, "3+5+1 1+3+5")}\n`],
  ["5,000 sections", Array.from({ length: 5000 }, (_, i) => `section S${i}\nchords | 1 |\n`).join("")],
  ["64 slots a bar", `key C\nchords${bars(4, "1 ".repeat(64))}\nright${bars(4, "3+5+1 ".repeat(64))}\n`],
  ["40 verses, sung 40 times", `key C\nlead | 1 2 |\n${"words | one two |\n".repeat(40)}form x40\n`],
  ["no notes", "key C\nchords | | |\n"],
  ["sections with nothing in them", "title A page\nnote nothing more\nsection One\nsection Two\n"],
  [
    "lines that can't be read",
    "key Q\n\u0000\nsection\n|||||\nchords | )( | ;\nright 5 5 5\nform form form\n",
  ],
  ["a word of 20,000 letters", `lead | 1 |\nwords | ${"la".repeat(10_000)} |\n`],
];

describe.skipIf(missing !== undefined)("a hostile chart on the page beside the text", () => {
  let browser: BareBrowser;
  beforeAll(async () => {
    browser = await startBrowser();
  });
  afterAll(() => browser.stop());

  async function close({ page, errors, requests }: LivePage): Promise<void> {
    expect(await page.evaluate("window.ran")).toBeUndefined();
    expect(errors).toEqual([]);
    expect(requests).toEqual([]);
    await page.context().close();
  }

  test("runs nothing of what stands in its words, wherever they stand", async () => {
    const chart = [
      ...[`title ${evil}`, `by ${evil}`, `note ${evil}`, "key C", `use "${name}"`, `${evil}`],
      ...[`section "${name}"`, "chords | 1 |", "lead | 1 |", `words | ${evil} |`, `cue | ${evil} |`],
      ...[`right | ${evil} | 1`, `section ${evil}`, "chords | 1 |", `form "${name}" in F`],
    ].join("\n");
    const live = await openLive(browser, { before: noPiano });
    const { page } = live;
    await live.show(chart);
    await page.locator("summary").click();
    await page.locator("#play").click();
    await page.selectOption("#loop", { index: 1 });
    await live.show(chart.replace("key C", "key D"), { uri: evil });
    await live.tell({ kind: "nothing", words: evil });
    await page.waitForTimeout(300);
    expect(await page.locator("h1").textContent()).toBe(evil);
    expect(await page.locator("h2").first().textContent()).toBe(name);
    expect(await page.locator("#said").textContent()).toContain(evil);
    expect(
      await page.locator("img, iframe, style, script[src], a:not(.skip), [onload], [onerror]").count(),
    ).toBe(0);
    // What is kept for after a reload is data too.
    const kept = { ...(await live.state()), top: evil, look: { ...(await live.state()).look, size: 1e9 } };
    const again = await openLive(browser, { kept, before: noPiano });
    await again.show(chart);
    expect(await again.page.locator("h1").textContent()).toBe(evil);
    expect((await again.page.locator("#size").textContent()) ?? "").toBe("300 %");
    await close(again);
    await close(live);
  });

  describe("shown after many others", () => {
    let live: LivePage;
    beforeAll(async () => {
      live = await openLive(browser, { before: noPiano });
      await live.page.locator("summary").click();
    });
    afterAll(() => close(live));

    test.each([...hostileCharts, ...more])("%s: marked, played, and left again", async (name, text) => {
      const { page, errors } = live;
      const uri = `memory:/${name}.plagal`;
      await live.show(text, { uri });
      await live.tell(cursorAt(live.version(), Math.max(0, text.lastIndexOf("|") - 1)));
      await page.locator("#play").click();
      await page.selectOption("#chords", "letters");
      await page.selectOption("#hands", "keyboards");
      if ((await page.locator(".no").count()) > 0) await page.locator(".no").first().click();
      await page.locator("#start").click();
      await live.show(`${text}\n; and a word more`, { uri });
      await page.locator("#stand").click();
      await page.keyboard.press("PageDown");
      await page.keyboard.press("Escape");
      // Whatever it was, the next chart is shown as if nothing had been.
      await live.show("title Quiet Water\nkey C\nchords | 1 | 4 |\n", { uri: "memory:/next.plagal" });
      expect(await page.locator("h1").textContent()).toBe("Quiet Water");
      expect(await page.locator(".bar").count()).toBe(2);
      expect(await page.evaluate("scrollY")).toBe(0);
      expect(errors).toEqual([]);
    });
  });
});
