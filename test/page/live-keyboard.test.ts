import { readFileSync } from "node:fs";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import type { FromPage } from "../../server/src/page/messages.js";
import { type BareBrowser, browserMissing, startBrowser } from "./bare-browser.js";
import { cursorAt, type LiveOptions, type LivePage, noPiano, openLive } from "./live-browser.js";

const missing = browserMissing();
const harbour = readFileSync("test/charts/harbour-evening.plagal", "utf8");
/** Everything that can be pressed, chosen or opened, as far as it can be seen; of the bars one stands for all. */
const controls = `[...document.querySelectorAll("a, button, select, input, summary")]
  .filter((it) => it.checkVisibility({ checkVisibilityCSS: true }) && (!it.matches(".no") || it.tabIndex === 0))`;
const nameOf = `((it) => it?.id || it?.getAttribute?.("aria-label") || it?.className || it?.localName)`;

describe.skipIf(missing !== undefined)("the page beside the text without a mouse", () => {
  let browser: BareBrowser;
  beforeAll(async () => {
    browser = await startBrowser();
  });
  afterAll(() => browser.stop());

  async function open(options: LiveOptions = {}): Promise<LivePage> {
    const live = await openLive(browser, {
      before: noPiano,
      ...options,
      context: { viewport: { width: 620, height: 800 }, ...options.context },
    });
    await live.show(harbour);
    return live;
  }
  async function close({ page, errors, requests }: LivePage): Promise<void> {
    expect(errors).toEqual([]);
    expect(requests).toEqual([]);
    await page.context().close();
  }
  const focused = ({ page }: LivePage): Promise<string> => page.evaluate(`${nameOf}(document.activeElement)`);
  const said = ({ page }: LivePage): Promise<string | null> => page.locator("#said").textContent();
  const gone = async (live: LivePage): Promise<Extract<FromPage, { kind: "go" }> | undefined> =>
    (await live.told()).findLast((it) => it.kind === "go");

  test("Tab reaches every control once, in the order of the page, and comes round", async () => {
    const live = await open();
    const { page } = live;
    await page.focus("summary");
    await page.keyboard.press("Enter");
    await page.evaluate("document.activeElement.blur(); getSelection().removeAllRanges()");
    const wanted: readonly string[] = await page.evaluate(`${controls}.map(${nameOf})`);
    expect(wanted.length).toBeGreaterThan(15);
    await page.focus(".skip");
    const order = [await focused(live)];
    for (let i = 1; i < wanted.length; i++) {
      await page.keyboard.press("Tab");
      order.push(await focused(live));
    }
    expect(order).toEqual(wanted);
    await close(live);
  });

  test("each choice and each button does what it says", async () => {
    const live = await open();
    const { page } = live;
    await page.focus("summary");
    await page.keyboard.press("Enter");
    const look = async () => (await live.state()).look;
    for (const [id, key, wanted] of [
      ["chords", "End", { chords: "numbers" }],
      ["hands", "End", { hands: "none" }],
      ["paper", "End", { paper: "dark" }],
      ["larger", "Enter", { size: 110 }],
      ["smaller", "Space", { size: 100 }],
    ] as const) {
      await page.focus(`#${id}`);
      await page.keyboard.press(key);
      expect(await look(), id).toMatchObject(wanted);
    }
    await page.focus("#key");
    await page.keyboard.press("ArrowDown");
    expect((await live.told()).at(-1)).toEqual({ kind: "key", key: "Ab" });
    await page.focus("#pin");
    await page.keyboard.press("Enter");
    expect((await live.told()).at(-1)).toEqual({ kind: "pin", pinned: true });
    expect(await page.locator("#pin").getAttribute("aria-pressed")).toBe("true");
    await page.focus("#part-left");
    await page.keyboard.press("Space");
    expect(await page.locator("#part-left").getAttribute("aria-pressed")).toBe("false");
    await close(live);
  });

  test("the link at the start leads to the player, and Tab goes on from there", async () => {
    // As the editor does with such links: it scrolls and does nothing more.
    const before = `addEventListener("click", (event) => event.target.matches("a") && event.preventDefault());`;
    const live = await open({ before });
    await live.page.focus(".skip");
    await live.page.keyboard.press("Enter");
    expect(await focused(live)).toBe("player");
    await live.page.keyboard.press("Tab");
    expect(await focused(live)).toBe("play");
    await close(live);
  });

  test("arrows go from bar to bar, and Enter puts the cursor of the text there", async () => {
    const live = await open();
    const { page } = live;
    await page.focus(".no[tabindex='0']");
    await page.keyboard.press("ArrowRight");
    await page.keyboard.press("ArrowRight");
    expect(await focused(live)).toBe("Bar 3 of Verse");
    await page.keyboard.press("Enter");
    const byKeys = await gone(live);
    expect(byKeys).toMatchObject({ focus: false });
    await page.locator("#b0-2 .no").click();
    expect(await gone(live)).toEqual(byKeys);
    await page.keyboard.press("Control+Enter");
    expect(await gone(live)).toEqual({ ...byKeys, focus: true });
    await page.keyboard.press("ArrowRight");
    await page.keyboard.press("Shift+Enter");
    expect(await said(live)).toBe("Marked: Verse, bar 3 to 4.");
    await close(live);
  });

  test("arrows go through all that stands in a bar, and say it", async () => {
    const live = await open();
    const { page } = live;
    const clicked: unknown[] = [];
    const cells = page.locator("#b0-1 .grid > span:not(:empty), #b0-1 .grid > .on");
    const count = await cells.count();
    expect(count).toBeGreaterThan(6);
    for (let i = 0; i < count; i++) {
      await cells.nth(i).click();
      clicked.push((await gone(live))?.offset);
    }
    await page.focus("[data-bar='0 1']");
    const words: unknown[] = [];
    const stepped: unknown[] = [];
    for (let i = 0; i < count; i++) {
      await page.keyboard.press("ArrowDown");
      stepped.push((await gone(live))?.offset);
      words.push(await said(live));
      expect(await page.locator(".at").count()).toBe(1);
    }
    expect(stepped).toEqual(clicked);
    expect(words[0]).toBe("G7/B.");
    expect(words).toContain("Words: light.");
    expect(words).toContain("Right hand: 9 A, ♭7 F, 5 D.");
    await page.keyboard.press("ArrowUp");
    expect((await gone(live))?.offset).toBe(clicked.at(-2));
    await page.keyboard.press("Control+Enter");
    expect(await gone(live)).toMatchObject({ offset: clicked.at(-2), focus: true });
    await page.keyboard.press("ArrowRight");
    expect(await page.locator(".at").count()).toBe(0);
    await close(live);
  });

  test("goes on the stand and comes back, by Escape and by a button that can be pressed too", async () => {
    const live = await open();
    const { page } = live;
    await page.focus("summary");
    await page.keyboard.press("Enter");
    await page.focus("#stand");
    await page.keyboard.press("Enter");
    expect(await said(live)).toMatch(/^On the stand/);
    // What is said must be heard there too, so it isn't hidden with the player.
    expect(await page.evaluate("document.getElementById('said').checkVisibility()")).toBe(true);
    expect(await page.evaluate<string[]>(`${controls}.map(${nameOf})`)).toEqual(["leave"]);
    await page.keyboard.press("Escape");
    expect((await live.state()).look.stand).toBe(false);
    await page.focus("#stand");
    await page.keyboard.press("Enter");
    await page.keyboard.press("Tab");
    expect(await focused(live)).toBe("leave");
    await page.keyboard.press("Enter");
    expect((await live.state()).look.stand).toBe(false);
    expect(await focused(live)).toBe("summary");
    await page.locator("#stand").click();
    await page.locator("#leave").click();
    expect((await live.state()).look.stand).toBe(false);
    await close(live);
  });

  test("Space plays and stops wherever it presses nothing", async () => {
    const live = await open();
    const { page } = live;
    const playing = () => page.evaluate("document.documentElement.dataset.playing");
    await page.keyboard.press("Space");
    await expect.poll(playing).toBe("true");
    await page.focus("[data-bar='0 1']");
    await page.keyboard.press("Space");
    await expect.poll(playing).toBe("false");
    await page.focus("summary");
    await page.keyboard.press("Space");
    expect(await page.locator("details").getAttribute("open")).toBe("");
    expect(await playing()).toBe("false");
    await close(live);
  });
});

describe.skipIf(missing !== undefined)("the page beside the text for who can't bear motion", () => {
  let browser: BareBrowser;
  beforeAll(async () => {
    browser = await startBrowser();
  });
  afterAll(() => browser.stop());
  const line = "chords | 1 | 4 | 5:7 | 1 |\nright  | 3+5+1 | 1+3+5 | b7+3+5 | 3+5+1 |\n\n";
  const long = `key F\nsection Walk\n${line.repeat(16)}`;

  /** Where the page stands in each of the frames after the cursor has gone to a system. */
  async function frames(
    theme: string,
    reducedMotion: "reduce" | "no-preference",
    system = 6,
  ): Promise<readonly number[]> {
    const live = await openLive(browser, {
      theme,
      context: { viewport: { width: 620, height: 800 }, reducedMotion },
    });
    await live.show(long);
    const message = cursorAt(1, long.indexOf("chords") + system * line.length + 9);
    const places = await live.page.evaluate<number[]>(`new Promise((resolve) => {
      const places = [];
      const look = () => {
        places.push(scrollY);
        if (places.length < 90) requestAnimationFrame(look);
        else resolve(places);
      };
      postMessage(${JSON.stringify(message)}, "*");
      requestAnimationFrame(look);
    })`);
    expect(await live.page.evaluate("document.getAnimations().length")).toBe(0);
    expect(
      await live.page.evaluate(`(() => {
        const { top, bottom } = document.querySelector(".here").getBoundingClientRect();
        return top >= 0 && bottom <= document.getElementById("player").getBoundingClientRect().top;
      })()`),
    ).toBe(true);
    await live.page.context().close();
    return places;
  }
  /** On how many ways it was seen between its start and where it came to rest. */
  const between = (places: readonly number[]): number =>
    new Set(places.filter((it) => it > 0 && Math.abs(it - (places.at(-1) ?? 0)) > 60)).size;

  test("what the system or the editor says of motion is obeyed", async () => {
    expect(between(await frames("vscode-light", "no-preference"))).toBeGreaterThan(3);
    // Far away it jumps for everybody.
    expect(between(await frames("vscode-light", "no-preference", 15))).toBeLessThanOrEqual(2);
    expect(between(await frames("vscode-light", "reduce"))).toBeLessThanOrEqual(2);
    expect(between(await frames("vscode-light vscode-reduce-motion", "no-preference"))).toBeLessThanOrEqual(
      2,
    );
  });
});
