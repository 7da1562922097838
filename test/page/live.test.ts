import { mkdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { usualLook } from "../../server/src/page/look.js";
import type { ToPage } from "../../server/src/page/messages.js";
import { type BareBrowser, browserMissing, startBrowser } from "./bare-browser.js";
import { cursorAt, type LiveOptions, type LivePage, openLive } from "./live-browser.js";

const missing = browserMissing();
const harbour = readFileSync("test/charts/harbour-evening.plagal", "utf8");

/** A chart of so many bars, four to a line. */
const longChart = (bars: number): string =>
  [
    "title Long Road",
    "key F",
    "tempo 80",
    "section Walk",
    ...Array.from(
      { length: bars / 4 },
      () => "chords | 1 | 4 | 5:7 | 1 |\nright  | 3+5+1 | 1+3+5 | b7+3+5 | 3+5+1 |\n",
    ),
  ].join("\n");

/** The offset of a mark in a text, and the text without it. */
function marked(text: string): { readonly text: string; readonly offset: number } {
  const offset = text.indexOf("‸");
  return { text: text.replace("‸", ""), offset };
}

const narrow = { viewport: { width: 620, height: 800 } };

describe.skipIf(missing !== undefined)("the page beside the text, in a bare browser", () => {
  let browser: BareBrowser;
  beforeAll(async () => {
    browser = await startBrowser();
  });
  afterAll(() => browser.stop());

  const open = (options: LiveOptions = {}): Promise<LivePage> =>
    openLive(browser, { context: narrow, ...options });

  /** Nothing left the page, and nothing went wrong in it. */
  async function close({ page, errors, requests }: LivePage): Promise<void> {
    expect(errors).toEqual([]);
    expect(requests).toEqual([]);
    await page.context().close();
  }
  const textsOf = ({ page }: LivePage, selector: string): Promise<readonly string[]> =>
    page.locator(selector).allTextContents();
  const classed = ({ page }: LivePage, name: string): Promise<readonly string[]> =>
    page.evaluate(`[...document.querySelectorAll(".${name}")].map((it) => it.id)`);
  /** How far it is scrolled, once that has been the same for some frames. */
  const scrolled = ({ page }: LivePage): Promise<number> =>
    page.evaluate(`new Promise((resolve) => {
      let [last, same] = [-1, 0];
      const look = () => {
        same = scrollY === last ? same + 1 : 0;
        last = scrollY;
        if (same > 5) resolve(Math.round(last));
        else requestAnimationFrame(look);
      };
      look();
    })`);

  test("shows the chart, and says that it is ready", async () => {
    const live = await open();
    expect(await textsOf(live, "main")).toEqual(["Reading the chart…"]);
    expect(await live.told()).toEqual([{ kind: "ready" }]);
    await live.show(harbour);
    expect(await textsOf(live, "h1")).toEqual(["Harbour Evening"]);
    expect(await textsOf(live, "h2")).toEqual(["Verse", "Tag"]);
    expect(await textsOf(live, "#b0-0 .chords")).toEqual(["G"]);
    expect((await live.state()).uri).toBe("memory:/page.plagal");
    await shot(live.page, "live-light");
    await close(live);
  });

  test.each([
    ["dark", "vscode-dark"],
    ["high-contrast", "vscode-high-contrast"],
    ["high-contrast-light", "vscode-high-contrast-light"],
  ])("is %s where the editor is, and changes with it", async (name, theme) => {
    const live = await open({ theme });
    await live.show(harbour);
    await shot(live.page, `live-${name}`);
    const paper = (): Promise<string> =>
      live.page.evaluate("getComputedStyle(document.body).backgroundColor");
    const expected = {
      dark: "rgb(31, 30, 28)",
      "high-contrast": "rgb(0, 0, 0)",
      "high-contrast-light": "rgb(255, 255, 255)",
    };
    expect(await paper()).toBe(expected[name as keyof typeof expected]);
    await live.page.evaluate(`document.body.className = "vscode-light"`);
    expect(await paper()).toBe("rgb(251, 250, 246)");
    await close(live);
  });

  test("shows letters, numbers or both, and hands or none; it stays so after a reload", async () => {
    const live = await open();
    await live.show(harbour);
    const { page } = live;
    await page.locator("summary").click();
    const seen = (selector: string): Promise<boolean> => page.locator(selector).first().isVisible();
    expect([await seen("#b0-0 .chords"), await seen("#b0-0 .numbers"), await seen("#b0-0 .right")]).toEqual([
      true,
      true,
      true,
    ]);
    await page.selectOption("#chords", "numbers");
    expect([await seen("#b0-0 .chords"), await seen("#b0-0 .numbers")]).toEqual([false, true]);
    await page.selectOption("#chords", "letters");
    expect([await seen("#b0-0 .chords"), await seen("#b0-0 .numbers")]).toEqual([true, false]);
    await page.selectOption("#hands", "none");
    expect(await seen("#b0-0 .right")).toBe(false);
    await page.selectOption("#paper", "dark");
    await page.locator("#larger").click();
    const kept = await live.state();
    expect(kept.look).toEqual({ chords: "letters", hands: "none", paper: "dark", size: 110, stand: false });
    await shot(page, "live-settings");
    await close(live);
    const again = await open({ kept });
    await again.show(harbour);
    expect(await again.page.evaluate("({ ...document.documentElement.dataset })")).toMatchObject({
      chords: "letters",
      hands: "none",
      paper: "dark",
      playing: "false",
      stand: "false",
    });
    expect(await again.page.locator("#b0-0 .numbers").first().isVisible()).toBe(false);
    await close(again);
  });

  test("marks the bar of the cursor, and scrolls only where it is out of sight", async () => {
    const live = await open({ context: { ...narrow, reducedMotion: "reduce" } });
    const text = longChart(64);
    await live.show(text);
    const cursorIn = (bar: number, selectedFrom?: number): Promise<void> => {
      const line = text.split("chords")[1 + Math.floor(bar / 4)] as string;
      const start =
        text
          .split("chords")
          .slice(0, 1 + Math.floor(bar / 4))
          .join("chords").length + 6;
      const inLine =
        line
          .split("|")
          .slice(0, (bar % 4) + 1)
          .join("|").length + 2;
      const there = cursorAt(live.version(), start + inLine);
      const selected = [selectedFrom ?? start + inLine, start + inLine] as const;
      return live.tell({ ...there, ...(there.kind === "cursor" ? { selected } : {}) } as ToPage);
    };
    await cursorIn(1);
    expect(await classed(live, "here")).toEqual(["b0-1"]);
    expect(await scrolled(live)).toBe(0);
    // Who selects looks at the text.
    await cursorIn(62, text.indexOf("1 |"));
    expect(await classed(live, "here")).toEqual(["b0-62"]);
    expect(await scrolled(live)).toBe(0);
    await cursorIn(62);
    expect(await classed(live, "here")).toEqual(["b0-62"]);
    const down = await scrolled(live);
    expect(down).toBeGreaterThan(500);
    expect(
      await live.page.evaluate(`(() => {
      const { top, bottom } = document.getElementById("b0-62").getBoundingClientRect();
      return top >= 0 && bottom <= document.getElementById("player").getBoundingClientRect().top;
    })()`),
    ).toBe(true);
    await cursorIn(61);
    expect(await classed(live, "here")).toEqual(["b0-61"]);
    expect(await scrolled(live)).toBe(down);
    // Between the rows it is in no bar.
    await live.tell(cursorAt(live.version(), 3));
    expect(await classed(live, "here")).toEqual([]);
    expect(await scrolled(live)).toBe(down);
    await close(live);
  });

  test("on the stand, where nothing lies over the chart, the cursor's bar comes into sight too", async () => {
    const kept = { look: { ...usualLook, stand: true } };
    const live = await open({ kept, context: { ...narrow, reducedMotion: "reduce" } });
    const text = longChart(64);
    await live.show(text);
    const last = text.lastIndexOf("chords");
    await live.tell(cursorAt(live.version(), text.indexOf("|", last) + 2));
    expect(await classed(live, "here")).toEqual(["b0-60"]);
    expect(await scrolled(live)).toBeGreaterThan(500);
    const isSeen = (): Promise<boolean> =>
      live.page.evaluate(`(() => {
        const { top, bottom } = document.getElementById("b0-60").getBoundingClientRect();
        return top >= 0 && bottom <= innerHeight;
      })()`);
    expect(await isSeen()).toBe(true);
    await close(live);
  });

  test("a cursor that is ahead of the chart is shown once the chart has come", async () => {
    const live = await open();
    await live.show("key C\nchords | 1 | 4 |\n");
    const { text, offset } = marked("key C\nchords | 1 | 4 | 5‸ |\n");
    await live.tell(cursorAt(2, offset));
    expect(await classed(live, "here")).toEqual([]);
    await live.show(text);
    expect(await classed(live, "here")).toEqual(["b0-2"]);
    await close(live);
  });

  test("what is pressed puts the cursor there: a chord, a stack, a word, a bar", async () => {
    const text = [
      "key C",
      "chords | 1 6m | 4 - |",
      "lead   | 5 3 | 6 5 |",
      "words  | Go now | we rest |",
      "right  | 1+3 5+1 | 4+6 - |",
    ].join("\n");
    const live = await open();
    await live.show(text);
    const pressed = async (selector: string): Promise<string> => {
      await live.page.locator(selector).click();
      const last = (await live.told()).findLast((it) => it.kind === "go");
      return last?.kind === "go" ? (text.slice(last.offset).split(/[ |\n]/)[0] as string) : "";
    };
    expect(await pressed("#b0-0 .chords >> nth=1")).toBe("6m");
    expect(await pressed("#b0-0 .right >> nth=1")).toBe("5+1");
    expect(await pressed("#b0-1 .words >> nth=1")).toBe("rest");
    expect(await pressed("#b0-1 .lead >> nth=0")).toBe("6");
    expect(await pressed("#b0-1 .no")).toBe("4");
    await live.page.locator("#b0-0 .lead >> nth=1").dblclick();
    expect((await live.told()).at(-1)).toMatchObject({
      kind: "go",
      focus: true,
      offset: text.indexOf("3 | 6"),
    });
    await close(live);
  });

  test("an edit draws its own system again and no other, and moves nothing", async () => {
    const live = await open({ context: { ...narrow, reducedMotion: "reduce" } });
    let text = longChart(64);
    await live.show(text);
    await live.page.evaluate("scrollTo(0, 900)");
    const before = await scrolled(live);
    await live.page.evaluate(`
      window.touched = [];
      new MutationObserver((all) => touched.push(...all.map(({ target }) =>
        (target.nodeType === 1 ? target : target.parentElement).closest(".system")?.querySelector(".bar").id ?? "")))
        .observe(document.querySelector(".sheet"), { subtree: true, childList: true, characterData: true, attributes: true });`);
    for (let i = 0; i < 50; i++) {
      text = i % 2 === 0 ? text.replace("5:7 | 1 |", "5:7 | 6m |") : text.replace("5:7 | 6m |", "5:7 | 1 |");
      await live.show(text);
      expect(await scrolled(live)).toBe(before);
    }
    const systems = (await live.page.evaluate<string[]>("touched")).filter((bar) => bar !== "");
    expect(new Set(systems)).toEqual(new Set(["b0-0"]));
    // A line more above what is looked at leaves it where it is on the screen.
    const place = (): Promise<number> =>
      live.page.evaluate(`Math.round(document.getElementById("b0-40").getBoundingClientRect().top)`);
    await live.page.evaluate(`document.getElementById("b0-40").scrollIntoView({ block: "center" })`);
    const stood = await place();
    await live.show(text.replace("chords", "cue    | slowly | | | |\nchords"));
    expect(Math.abs((await place()) - stood)).toBeLessThanOrEqual(2);
    await close(live);
  });

  test("long charts are drawn from where they are looked at, the rest when there is time", async () => {
    const live = await open();
    await live.tell({ kind: "nothing", words: "Wait." });
    expect(await textsOf(live, "#waiting")).toEqual(["Wait."]);
    await live.page.evaluate(`
      window.idle = [];
      window.requestIdleCallback = (run) => { idle.push(run); return idle.length; };`);
    await live.show(longChart(500));
    const drawnBars = (): Promise<number> => live.page.locator(".bar").count();
    const first = await drawnBars();
    expect(first).toBeGreaterThan(8);
    expect(first).toBeLessThan(120);
    expect(await live.page.locator(".system").count()).toBe(125);
    // The cursor far below is shown all the same.
    const text = longChart(500);
    await live.tell(cursorAt(1, text.lastIndexOf("chords") + 9));
    expect(await classed(live, "here")).toEqual(["b0-496"]);
    await live.page.evaluate(`(async () => {
      while (idle.length > 0) idle.shift()({ timeRemaining: () => 50 });
    })()`);
    expect(await drawnBars()).toBe(500);
    await close(live);
  });

  test("on the stand nothing but the chart is there, and pedals turn it line by line", async () => {
    const live = await open({ context: { ...narrow, reducedMotion: "reduce" } });
    await live.show(longChart(64));
    const { page } = live;
    await page.locator("summary").click();
    await page.locator("#stand").click();
    expect(await page.locator("#player").isVisible()).toBe(false);
    expect(await page.locator("form").isVisible()).toBe(false);
    await shot(page, "live-stand");
    const tops = (): Promise<readonly number[]> =>
      page.evaluate(`[...document.querySelectorAll(".system")].map((it, i) => [i, it.getBoundingClientRect()])
        .filter(([, box]) => box.top >= -1 && box.bottom <= innerHeight + 1).map(([i]) => i)`);
    const seen = new Set(await tops());
    const forward = ["PageDown", "ArrowRight", "ArrowDown"];
    for (let i = 0; i < 60 && seen.size < 16; i++) {
      await page.keyboard.press(forward[i % 3] as string);
      for (const it of await tops()) seen.add(it);
    }
    expect(seen.size).toBe(16);
    for (let i = 0; i < 60 && (await scrolled(live)) > 0; i++)
      await page.keyboard.press(["PageUp", "ArrowLeft", "ArrowUp"][i % 3] as string);
    expect(await scrolled(live)).toBe(0);
    await page.keyboard.press("Escape");
    expect(await page.locator("#player").isVisible()).toBe(true);
    await close(live);
  });

  test("shows what both hands hold as small keyboards, where either strikes", async () => {
    const text = ["key C", "chords | 1 - 4 - |", "right  | 3+5+1 r 4+6+1 - |", "left   | 1 - - 5 |"].join(
      "\n",
    );
    const live = await open();
    await live.show(text);
    await live.page.locator("summary").click();
    await live.page.selectOption("#hands", "keyboards");
    const words = (): Promise<readonly string[]> =>
      live.page.evaluate(
        `[...document.querySelectorAll("#b0-0 .pictured svg")].map((it) => it.getAttribute("aria-label"))`,
      );
    const shown = await words();
    expect(shown).toHaveLength(3);
    expect(shown[0]).toBe("Left hand: C2. Right hand: E3, G3, C4.");
    // The left hand's tone is held into the second chord; the right hand's one into the left hand's.
    expect(shown[1]).toContain("C2 (held)");
    expect(shown[2]).toContain("(held)");
    expect(await live.page.locator("#b0-0 .right").count()).toBe(0);
    await live.show(harbour);
    await live.page.locator("summary").click();
    await shot(live.page, "live-keyboards");
    await live.page.evaluate(`document.body.className = "vscode-dark"`);
    await shot(live.page, "live-keyboards-dark");
    await live.page.locator("summary").click();
    await live.page.selectOption("#hands", "names");
    expect(await live.page.locator("#b0-0 .right").count()).toBeGreaterThan(0);
    await close(live);
  });

  test("comes back to the bar that was at the top", async () => {
    const kept = { uri: "memory:/page.plagal", top: "b0-40" };
    const live = await open({ kept, context: { ...narrow, reducedMotion: "reduce" } });
    await live.show(longChart(64));
    const top: number = await live.page.evaluate(
      `document.getElementById("b0-40").getBoundingClientRect().top`,
    );
    expect(top).toBeGreaterThanOrEqual(-2);
    expect(top).toBeLessThan(150);
    await close(live);
  });

  test("asks for another key, and shows it when it comes", async () => {
    const live = await open();
    await live.show(harbour);
    await live.page.locator("summary").click();
    await live.page.selectOption("#key", "Bb");
    expect((await live.told()).at(-1)).toEqual({ kind: "key", key: "Bb" });
    await live.show(harbour, { key: "Bb" });
    expect(await textsOf(live, "#b0-0 .chords")).toEqual(["B♭"]);
    expect(await live.page.locator("#key").inputValue()).toBe("Bb");
    await live.page.selectOption("#key", "G");
    expect((await live.told()).at(-1)).toEqual({ kind: "key" });
    await close(live);
  });

  test("who is silent stays silent when the text changes", async () => {
    const live = await open();
    await live.show(harbour);
    await live.page.locator("summary").click();
    await live.page.locator("#part-left").click();
    await live.page.selectOption("#alone", "lead");
    await live.show(harbour.replace("Harbour", "Quiet Harbour"));
    expect(await live.page.locator("#part-left").getAttribute("aria-pressed")).toBe("false");
    expect(await live.page.locator("#alone").inputValue()).toBe("lead");
    await close(live);
  });

  test("the page of another chart starts at its top", async () => {
    const live = await open({ context: { ...narrow, reducedMotion: "reduce" } });
    await live.show(longChart(64));
    await live.page.evaluate("scrollTo(0, 900)");
    await live.show(harbour, { uri: "memory:/other.plagal" });
    expect(await scrolled(live)).toBe(0);
    expect(await textsOf(live, "h1")).toEqual(["Harbour Evening"]);
    expect(await live.page.locator(".system").count()).toBe(2);
    await close(live);
  });
});

async function shot(page: Page, name: string): Promise<void> {
  const folder = process.env.PLAGAL_SCREENS;
  if (!folder) return;
  mkdirSync(folder, { recursive: true });
  await page.screenshot({ path: join(folder, `${name}.png`) });
}
