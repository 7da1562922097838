import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { openDocument } from "../../server/src/document/document.js";
import { exporters } from "../../server/src/exports/exporters.js";
import { movedTo } from "../support/page-of.js";
import { type BareBrowser, browserMissing, type OpenPage, pageText, startBrowser } from "./bare-browser.js";
import { recordingContext } from "./listen.js";

const missing = browserMissing();
const harbour = readFileSync("test/charts/harbour-evening.plagal", "utf8");
const vamp = readFileSync("test/charts/sunday-vamp.plagal", "utf8");

describe.skipIf(missing !== undefined)("a page in a bare browser, from a file and with no network", () => {
  let browser: BareBrowser;
  beforeAll(async () => {
    browser = await startBrowser();
  });
  afterAll(() => browser.stop());

  /** Nothing left the page, and nothing went wrong in it. */
  async function close({ page, requests, errors }: OpenPage): Promise<void> {
    expect(requests).toEqual([]);
    expect(errors).toEqual([]);
    await page.context().close();
  }
  const textOf = ({ page }: OpenPage, selector: string): Promise<string> =>
    page
      .locator(selector)
      .first()
      .evaluate((it) => it.textContent ?? "");

  test("shows the chart, and its size is below 2 MB with its sound", async () => {
    const html = pageText(harbour);
    expect(html.length).toBeLessThan(2_000_000);
    const open = await browser.open(html);
    expect(await open.page.title()).toBe("Harbour Evening");
    expect(await textOf(open, ".form")).toContain("Verse · Tag · Verse");
    const chords = await open.page.locator(".chords:not(.labels *)").allInnerTexts();
    expect(chords.map((it) => it.trim()).filter((it) => it !== "")).toEqual([
      "G",
      "G7/B",
      "Cmaj7",
      "Cm6",
      "G/D",
      "A9",
      "A7♭9",
      "D9sus",
      "D7♯5",
    ]);
    expect(await open.page.locator("#picture svg").getAttribute("aria-label")).toBe(
      "G. Left hand: G2 (1, finger 5), D3 (5, finger 1). Right hand: B3 (3, finger 1), D4 (5, finger 2), G4 (1, finger 5).",
    );
    await close(open);
  });

  test("plays with the real sound of the browser, marks the bar, and Space stops it", async () => {
    const open = await browser.open(pageText(harbour));
    await open.page.keyboard.press("Space");
    await expect.poll(() => textOf(open, "#play")).toBe("Pause");
    await open.page.locator("#b0-1.now").waitFor();
    expect(await open.page.locator(".now").count()).toBe(1);
    expect(await open.page.locator("[aria-current]").count()).toBe(1);
    expect(await textOf(open, "#where")).toBe("Verse, bar 2");
    await open.page.keyboard.press("Space");
    expect(await textOf(open, "#play")).toBe("Play");
    const there = await textOf(open, "#where");
    await open.page.waitForTimeout(500);
    expect(await textOf(open, "#where")).toBe(there);
    await close(open);
  });

  test("in another key has all its words, numbers and pictures there, and comes back to what it was", async () => {
    const open = await browser.open(pageText(vamp));
    const sheet = (): Promise<string> => open.page.locator(".sheet").evaluate("(it) => it.outerHTML");
    const before = await sheet();
    await open.page.selectOption("#key", { label: "G major" });
    const moved = movedTo(openDocument("page.plagal", vamp), 1);
    const there = await browser.open(pageText(moved?.text ?? ""));
    const textIn = (it: OpenPage): Promise<string> =>
      it.page.locator(".sheet").evaluate("(it) => it.textContent");
    expect(await textIn(open)).toBe(await textIn(there));
    expect(await open.page.locator("#picture svg").getAttribute("aria-label")).toBe(
      await there.page.locator("#picture svg").getAttribute("aria-label"),
    );
    expect(await textOf(open, "#said")).toBe("In G major.");
    await open.page.selectOption("#key", { label: "A♭ major" });
    expect(await sheet()).toBe(before);
    await close(there);
    await close(open);
  });

  test.each([
    ["", "", -4],
    ["G major", "-G", 1],
    ["D♭ major", "-Db", -5],
  ])("saves MIDI in %s, the exporter’s bytes", async (label, ending, tonic) => {
    const open = await browser.open(pageText(vamp));
    if (label !== "") await open.page.selectOption("#key", { label });
    const [download] = await Promise.all([open.page.waitForEvent("download"), open.page.click("#save")]);
    expect(download.suggestedFilename()).toMatch(new RegExp(`^harbour-[0-9]+${ending}\\.mid$`));
    const chart =
      label === "" ? openDocument("page.plagal", vamp) : movedTo(openDocument("page.plagal", vamp), tonic);
    const wanted = exporters.midi((chart as NonNullable<typeof chart>).chart).bytes;
    expect(readFileSync(await download.path()).equals(wanted)).toBe(true);
    expect(open.requests.filter((it) => !it.startsWith("blob:"))).toEqual([]);
    expect(open.errors).toEqual([]);
    await open.page.context().close();
  });

  test("is worked by the keyboard alone", async () => {
    const open = await browser.open(pageText(harbour), {}, recordingContext(30));
    const { page } = open;
    const focused = (): Promise<string> =>
      page.evaluate(
        'document.activeElement.id || document.activeElement.getAttribute("aria-label") || document.activeElement.className',
      );
    const order: string[] = [];
    for (let i = 0; i < 17; i++) {
      await page.keyboard.press("Tab");
      order.push(await focused());
    }
    expect(order.slice(0, 17)).toEqual([
      "skip",
      "key",
      "loop",
      "part-lead",
      "part-right",
      "part-left",
      "alone",
      "count-in",
      "click",
      "save",
      "print",
      "Bar 1 of Verse",
      "play",
      "start",
      "tone",
      "slower",
      "faster",
    ]);
    await page.focus("[data-bar='0 0']");
    await page.keyboard.press("ArrowRight");
    await page.keyboard.press("ArrowRight");
    expect(await focused()).toBe("Bar 3 of Verse");
    await page.keyboard.press("Enter");
    expect(await textOf(open, "#where")).toBe("Verse, bar 3");
    await page.keyboard.press("ArrowRight");
    await page.keyboard.press("Shift+Enter");
    expect(await textOf(open, "#said")).toBe("Marked: Verse, bar 3 to 4.");
    expect(await page.locator(".marked").count()).toBe(2);
    await page.focus("#loop");
    await page.keyboard.press("End");
    expect(await textOf(open, "#said")).toBe("Round and round: Verse, bar 3 to 4.");
    await page.focus("[data-bar='0 3']");
    await page.keyboard.press("Space");
    await expect.poll(() => textOf(open, "#play")).toBe("Pause");
    await page.keyboard.press("Space");
    expect(await textOf(open, "#play")).toBe("Play");
    await page.focus("#slower");
    await page.keyboard.press("Enter");
    expect(await textOf(open, "#pace")).toBe("95 %, 68 a minute");
    await page.focus("#part-left");
    await page.keyboard.press("Space");
    expect(await page.locator("#part-left").getAttribute("aria-pressed")).toBe("false");
    await page.focus("#key");
    await page.keyboard.press("Home");
    expect(await textOf(open, "#said")).toBe("In C major.");
    await close(open);
  });

  test("prints the chart and nothing of the player", async () => {
    const open = await browser.open(pageText(harbour));
    await open.page.emulateMedia({ media: "print" });
    for (const selector of [".desk", ".shelf", ".skip", ".no", ".screen"])
      expect(await open.page.locator(selector).first().isVisible(), selector).toBe(false);
    expect(await open.page.locator(".sheet").isVisible()).toBe(true);
    const pdf = await open.page.pdf({ format: "A4" });
    expect(pdf.toString("latin1").match(/\/Type ?\/Page\b/g)).toHaveLength(1);
    await close(open);
  });

  test("runs no script that somebody puts into it, and no handler", async () => {
    const html = pageText(harbour)
      .replace("<main", "<script>window.ran = 1</script><img src=x onerror='window.ran = 2'><main")
      .replace("</body>", "<script src='data:text/javascript,window.ran=3'></script></body>");
    const { page, errors } = await browser.open(html);
    await page.evaluate(`try { void setTimeout("window.ran = 4", 0) } catch {}`);
    await page.waitForTimeout(200);
    expect(await page.evaluate("window.ran")).toBeUndefined();
    expect(errors.filter((it) => /Content Security Policy/.test(it)).length).toBeGreaterThanOrEqual(3);
    expect(await page.locator("#where").textContent()).toBe("Verse, bar 1");
    await page.context().close();
  });

  const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
  test.each([
    ["light", "light", 1280],
    ["dark", "dark", 1280],
    ["on a telephone", "light", 390],
  ] as const)("has nothing that axe finds wrong: %s", async (_name, colorScheme, width) => {
    const options = { bypassCSP: true, colorScheme, viewport: { width, height: 800 } };
    for (const chart of [vamp, harbour]) {
      const { page } = await browser.open(pageText(chart), options);
      await page.evaluate(axe);
      const found = await page.evaluate<{ id: string; impact: string; nodes: { html: string }[] }[]>(
        "axe.run().then(({ violations }) => violations)",
      );
      expect(found.map(({ id, impact, nodes }) => [id, impact, nodes[0]?.html])).toEqual([]);
      await page.context().close();
    }
  });

  describe("of a hostile chart", () => {
    const evil = `</script><script>window.ran=1</script><img src=x onerror=window.ran=2>"'><svg onload=window.ran=3>&lt;`;
    const bars = (count: number, bar: string): string => ` |${` ${bar} |`.repeat(count)}`;

    test("runs nothing of what stands in its words", async () => {
      const chart = `title ${evil}\nby ${evil}\nnote ${evil}\nkey C\nsection "${evil.replaceAll('"', "")}"\nchords | 1 |\nlead | 1 |\nwords | ${evil} |\ncue | ${evil} |\nform "${evil.replaceAll('"', "")}" in F\n`;
      const open = await browser.open(pageText(chart));
      await open.page.selectOption("#key", { label: "D major" });
      await open.page.click("#play");
      await open.page.waitForTimeout(300);
      expect(await open.page.evaluate("window.ran")).toBeUndefined();
      expect(await textOf(open, "h1")).toBe(evil);
      expect(await open.page.locator("img").count()).toBe(0);
      await close(open);
    });

    test.each<[string, string]>([
      ["with 5,000 bars", `key C\nchords${bars(5000, "1 4")}\nright${bars(5000, "3+5+1 1+3+5")}\n`],
      [
        "with 64 slots a bar",
        `key C\nchords${bars(4, "1 ".repeat(64))}\nright${bars(4, "3+5+1 ".repeat(64))}\n`,
      ],
      ["with 40 verses", `key C\nlead | 1 2 3 4 |\n${"words | one two three four |\n".repeat(40)}form x40\n`],
      ["without a note", "key C\nchords | | |\n"],
      ["of words alone", "title Words\nsection Verse\nwords | only words here |\n"],
      ["of nothing", ""],
      ["of no music", "title A page\nnote nothing more\nsection One\nsection Two\n"],
    ])("%s it opens, plays, moves and stops", async (_name, chart) => {
      const open = await browser.open(pageText(chart));
      await open.page.click("#play");
      await open.page.selectOption("#key", { label: "D major" });
      expect(await textOf(open, "#said")).toMatch(/^In D major\.|^The end\./);
      await open.page.click("#start");
      await close(open);
    });
  });
});
