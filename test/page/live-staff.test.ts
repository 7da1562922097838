import { mkdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { usualLook } from "../../server/src/page/look.js";
import type { Look } from "../../server/src/page/messages.js";
import { hostileCharts } from "../support/hostile-charts.js";
import { sampleCharts } from "../support/sample-charts.js";
import { type BareBrowser, browserMissing, startBrowser } from "./bare-browser.js";
import {
  cursorAt,
  engraverFile,
  engraverUrl,
  type LiveOptions,
  type LivePage,
  openLive,
} from "./live-browser.js";

const missing = browserMissing();
const chart = (name: string): string => readFileSync(`test/charts/${name}`, "utf8");
const harbour = chart("harbour-evening.plagal");

/** A chart of so many bars, four to a line. */
const longChart = (bars: number): string =>
  [
    "title Long Road",
    "key F",
    "section Walk",
    ...Array.from(
      { length: bars / 4 },
      () => "chords | 1 | 4 | 5:7 | 1 |\nright  | 3+5+1 | 1+3+5 | b7+3+5 | 3+5+1 |\n",
    ),
  ].join("\n");

const wide = { viewport: { width: 760, height: 1000 } };
const still = { ...wide, reducedMotion: "reduce" } as const;

describe.skipIf(missing !== undefined)("the page beside the text as a staff, in a bare browser", () => {
  let browser: BareBrowser;
  beforeAll(async () => {
    browser = await startBrowser();
  });
  afterAll(() => browser.stop());

  interface StaffPage extends LivePage {
    /** What was said on the console that isn't good. */
    readonly said: readonly string[];
    /** Shows a version, and waits until it is engraved. */
    readonly engrave: (text: string, uri?: string) => Promise<void>;
  }

  async function open(look: Partial<Look> = {}, options: LiveOptions = {}): Promise<StaffPage> {
    const kept = { look: { ...usualLook, hands: "staff", ...look } as Look };
    const live = await openLive(browser, { context: wide, kept, ...options });
    const said: string[] = [];
    live.page.on("console", (message) => {
      if (message.type() !== "log") said.push(message.text());
    });
    return {
      ...live,
      said,
      async engrave(text, uri = "memory:/page.plagal") {
        await live.show(text, { staff: true, uri });
        await ready(live);
      },
    };
  }

  const ready = ({ page }: LivePage): Promise<void> => page.locator(".sheet:not([aria-busy])").waitFor();

  /** Nothing was asked for but the engraver, and nothing went wrong. */
  async function close({ page, errors, said, requests }: StaffPage): Promise<void> {
    expect(errors).toEqual([]);
    expect(said).toEqual([]);
    expect(requests.filter((url) => url !== engraverUrl)).toEqual([]);
    await page.context().close();
  }

  const texts = ({ page }: LivePage, selector: string): Promise<readonly string[]> =>
    page.locator(selector).allTextContents();
  const goes = async (live: LivePage): Promise<readonly number[]> =>
    (await live.told()).flatMap((it) => (it.kind === "go" ? [it.offset] : []));

  test("asks for the scores, and engraves every sample bar for bar without a remark", async () => {
    const live = await open();
    expect(await live.told()).toEqual([{ kind: "staff", wanted: true }, { kind: "ready" }]);
    for (const name of sampleCharts) {
      await live.engrave(chart(name), name);
      await shot(live.page, `staff-${name.replace("/", "-")}`);
      const { bars, measures, odd } = await live.page.evaluate<{
        bars: number;
        measures: number;
        odd: string[];
      }>(`({
        bars: document.querySelectorAll(".bar").length,
        measures: document.querySelectorAll(".staff .measure").length,
        // A bar lies over a picture, has some width, and says in words what is in it.
        odd: [...document.querySelectorAll(".bar")].filter((bar) => {
          const { width, height, left, right } = bar.getBoundingClientRect();
          const words = bar.querySelector(".vh").textContent;
          return width < 12 || height < 40 || left < 0 || right > innerWidth || words.length < 2;
        }).map((bar) => bar.id + JSON.stringify(bar.getBoundingClientRect())),
      })`);
      expect(bars, name).toBeGreaterThan(0);
      expect(measures, name).toBe(bars);
      expect(odd, name).toEqual([]);
    }
    await close(live);
  });

  test("the engraver is loaded when a staff is first asked for, and once; words say so", async () => {
    const live = await open({ hands: "names" });
    const { page } = live;
    const engraver = await holdBack(live);
    await live.show(harbour);
    expect(engraver.asked()).toBe(0);
    await page.locator("summary").click();
    await page.selectOption("#hands", "staff");
    expect((await live.told()).at(-1)).toEqual({ kind: "staff", wanted: true });
    await live.show(harbour, { staff: true });
    expect(await texts(live, "#engraving")).toEqual(["Getting ready to draw the staff…"]);
    // Meanwhile everything is there as it was.
    expect(await page.locator("#b0-0 .right").first().isVisible()).toBe(true);
    engraver.come();
    await ready(live);
    expect(await page.locator("#engraving").count()).toBe(0);
    expect(await page.locator(".staff svg").count()).toBe(2);
    await page.selectOption("#hands", "names");
    expect((await live.told()).at(-1)).toEqual({ kind: "staff", wanted: false });
    expect(await page.locator(".staff").count()).toBe(0);
    expect(await page.locator("#b0-0").getAttribute("style")).toBeFalsy();
    expect(await page.locator("#b0-0 .right").first().isVisible()).toBe(true);
    await page.selectOption("#hands", "staff");
    await live.engrave(harbour);
    expect(await page.locator(".staff svg").count()).toBe(2);
    expect(engraver.asked()).toBe(1);
    await close(live);
  });

  test.each([
    ["isn’t there", {}, engraverUrl.replace("verovio", "nothing")],
    ["may not run", { policy: "script-src 'unsafe-inline' https:" }, engraverUrl],
  ])("an engraver that %s leaves the names, and words say so", async (_, options, engraver) => {
    const live = await open({}, { engraver, ...options });
    await live.show(harbour, { staff: true });
    await live.page.locator("#engraving", { hasText: "can’t be drawn here" }).waitFor();
    expect(await live.page.locator("#b0-0 .right").first().isVisible()).toBe(true);
    expect(await live.page.locator(".staff").count()).toBe(0);
    await ready(live);
    await live.show(harbour.replace("Harbour", "Quiet Harbour"), { staff: true });
    expect(await texts(live, "h1")).toEqual(["Quiet Harbour Evening"]);
    await live.page.context().close();
  });

  test("is drawn under the page's content policy without a word against it", async () => {
    const live = await open(
      {},
      {
        policy:
          "default-src 'none'; script-src 'unsafe-inline' 'wasm-unsafe-eval' https://extension.test; style-src https://extension.test",
        before: `
          window.refused = [];
          document.addEventListener("securitypolicyviolation", (it) => refused.push(it.violatedDirective));`,
      },
    );
    await live.engrave(harbour);
    expect(await live.page.locator(".staff svg").count()).toBe(2);
    // It tells of what it refuses.
    await live.page.evaluate(
      `document.body.insertAdjacentHTML("beforeend", "<style>p { color: red }</style>")`,
    );
    await expect.poll(() => live.page.evaluate("refused")).toEqual(["style-src-elem"]);
    await live.page.context().close();
  });

  test("behind another tab it waits, and is drawn when it is seen again", async () => {
    const live = await open();
    const { page } = live;
    const engraver = await holdBack(live);
    await live.show(harbour, { staff: true });
    await page.evaluate(`document.querySelector("main").style.display = "none"`);
    engraver.come();
    await page.locator("#engraving").waitFor({ state: "detached" });
    await page.evaluate(`new Promise((resolve) => { setTimeout(resolve, 300); })`);
    expect(await page.locator(".staff svg").count()).toBe(0);
    await page.evaluate(`document.querySelector("main").style.display = ""`);
    await ready(live);
    expect(await page.locator(".staff svg").count()).toBe(2);
    await close(live);
  });

  test("the cursor's bar is marked, and a click on the staff puts the cursor there", async () => {
    const live = await open({}, { context: still });
    await live.engrave(harbour);
    const second = harbour.indexOf("1:7/3");
    await live.tell(cursorAt(1, second));
    const { page } = live;
    const here = page.locator(".here");
    expect(await here.getAttribute("id")).toBe("b0-1");
    const [box, picture] = [await here.boundingBox(), await page.locator(".staff svg").first().boundingBox()];
    if (box === null || picture === null) throw new Error("there is no box");
    expect(box.y).toBeGreaterThanOrEqual(picture.y - 1);
    expect(box.y + box.height).toBeLessThanOrEqual(picture.y + picture.height + 30);
    // It is pressed where the third bar is drawn, whatever lies on top there.
    const third = await page.locator(".staff .measure").nth(3).boundingBox();
    if (third === null) throw new Error("there is no third bar");
    await page.mouse.click(third.x + third.width / 2, third.y + third.height / 2);
    expect(await goes(live)).toEqual([harbour.indexOf("4maj7")]);
    await live.tell(cursorAt(1, harbour.indexOf("2:9")));
    expect(await page.locator(".here").getAttribute("id")).toBe("b1-1");
    await close(live);
  });

  test("bars are reached by the keyboard, and the one that plays is marked", async () => {
    const live = await open({}, { context: still });
    await live.engrave(harbour);
    const { page } = live;
    expect(await page.locator(".staff").first().getAttribute("aria-hidden")).toBe("true");
    await page.locator("#b0-0 .no").focus();
    await page.keyboard.press("ArrowRight");
    await page.keyboard.press("ArrowRight");
    expect(await page.evaluate("document.activeElement.getAttribute('aria-label')")).toBe("Bar 3 of Verse");
    await page.keyboard.press("Enter");
    expect(await goes(live)).toEqual([harbour.indexOf("4maj7")]);
    expect(await page.locator(".now").getAttribute("id")).toBe("b0-2");
    expect(await page.locator("#b0-2 .vh").textContent()).toContain("Right hand");
    await close(live);
  });

  /** Notes of each picture that is drawn from now on which bar it starts with. */
  const watch = ({ page }: LivePage): Promise<void> =>
    page.evaluate(`{
      window.drawn = [];
      const seen = new Set(document.querySelectorAll(".staff svg"));
      new MutationObserver(() => {
        for (const svg of document.querySelectorAll(".staff svg")) {
          if (seen.has(svg)) continue;
          seen.add(svg);
          drawn.push(svg.parentElement.nextElementSibling.querySelector(".bar").id);
        }
      }).observe(document.querySelector(".sheet"), { subtree: true, childList: true });
    }`);

  /** Holds the engraver back until it may come; how often it was asked for. */
  async function holdBack({
    page,
  }: LivePage): Promise<{ readonly come: () => void; readonly asked: () => number }> {
    let come: () => void = () => undefined;
    let asked = 0;
    const mayCome = new Promise<void>((resolve) => {
      come = resolve;
    });
    await page.route(engraverUrl, async (route) => {
      asked++;
      await mayCome;
      await route.fulfill({ path: engraverFile, contentType: "text/javascript" });
    });
    return { come, asked: () => asked };
  }

  test("an edit engraves its own section again, and only the last one of many", async () => {
    const live = await open();
    await live.engrave(harbour);
    await watch(live);
    const drawn = (): Promise<readonly string[]> => live.page.evaluate("drawn");
    await live.engrave(harbour.replace("2:9 ", "2:13"));
    expect(await drawn()).toEqual(["b1-0"]);
    expect(await texts(live, ".staff .chord")).toContain("A13");
    // A title, a section's name, what the form plays: nothing to engrave.
    await live.engrave(
      harbour.replace("2:9 ", "2:13").replace("Harbour", "Old Harbour").replace("form Verse Tag", "form Tag"),
    );
    expect(await drawn()).toEqual(["b1-0"]);
    // What comes while nothing was drawn yet takes the place of what came before.
    const versions = ["5", "6m", "2m", "3m", "4"].map((chord) =>
      harbour.replace("| 1        |", `| ${chord} |`),
    );
    await live.page.evaluate(`
      window.idle = [];
      window.requestIdleCallback = (run) => idle.push(run);`);
    for (const version of versions) await live.show(version, { staff: true });
    await live.page.evaluate("(async () => { while (idle.length > 0) idle.shift()(); })()");
    await ready(live);
    expect((await drawn()).slice(1).toSorted()).toEqual(["b0-0p", "b1-0"]);
    expect((await texts(live, ".staff .chord"))[0]).toBe("C");
    await close(live);
  });

  test("a section before the others leaves theirs as they are", async () => {
    const live = await open();
    await live.engrave(harbour);
    await watch(live);
    await live.engrave(harbour.replace("section Verse", "section Intro\nchords | 5:7 |\n\nsection Verse"));
    expect(await live.page.evaluate("drawn")).toEqual(["b0-0"]);
    expect(await texts(live, "h2")).toEqual(["Intro", "Verse", "Tag"]);
    // The bars of the second one lie over its own picture.
    const [bar, picture] = [
      await live.page.locator("#b1-2").boundingBox(),
      await live.page.locator(".staff svg").nth(1).boundingBox(),
    ];
    expect(bar?.y).toBeGreaterThan((picture?.y ?? Number.POSITIVE_INFINITY) - 1);
    await close(live);
  });

  test("chords in letters, in numbers, or both in rows", async () => {
    const live = await open({ chords: "both" });
    await live.engrave(harbour);
    const { page } = live;
    const first = (selector: string) => texts(live, selector).then((all) => all.slice(0, 2));
    expect(await first(".staff .chord")).toEqual(["G", "G7/B"]);
    expect(await first(".staff .number")).toEqual(["1", "1:7/3"]);
    await page.locator("summary").click();
    await page.selectOption("#chords", "numbers");
    await ready(live);
    expect(await first(".staff .chord")).toEqual(["1", "1:7/3"]);
    expect(await texts(live, ".staff .number")).toEqual([]);
    await page.selectOption("#chords", "letters");
    await ready(live);
    expect(await first(".staff .chord")).toEqual(["G", "G7/B"]);
    await close(live);
  });

  test("in another key it is in that key", async () => {
    const live = await open();
    await live.show(harbour, { staff: true, key: "Bb" });
    await ready(live);
    expect((await texts(live, ".staff .chord"))[0]).toBe("B♭");
    await close(live);
  });

  test("is as wide as the page, at the size of the look, and follows both", async () => {
    const live = await open({}, { context: still });
    await live.engrave(longChart(16));
    const { page } = live;
    const lines = (): Promise<number> => page.locator(".staff .line").count();
    const fits = (): Promise<boolean> =>
      page.evaluate(`[...document.querySelectorAll(".staff svg, .bar")].every((it) => {
        const sheet = document.querySelector(".sheet").getBoundingClientRect();
        const { left, right } = it.getBoundingClientRect();
        return left >= sheet.left - 2 && right <= sheet.right + 2;
      })`);
    const height = async (): Promise<number> =>
      (await page.locator(".staff .measure").first().boundingBox())?.height ?? 0;
    const before = await lines();
    const size = await height();
    expect(await fits()).toBe(true);
    await page.setViewportSize({ width: 420, height: 1000 });
    await page.waitForFunction(`document.querySelectorAll(".staff .line").length > ${before}`);
    expect(await fits()).toBe(true);
    expect(Math.abs((await height()) / size - 1)).toBeLessThan(0.05);
    await page.setViewportSize({ width: 760, height: 1000 });
    await page.waitForFunction(`document.querySelectorAll(".staff .line").length === ${before}`);
    await page.locator("summary").click();
    for (let i = 0; i < 5; i++) await page.locator("#larger").click();
    await ready(live);
    expect((await height()) / size).toBeGreaterThan(1.4);
    expect(await fits()).toBe(true);
    await close(live);
  });

  test("bars too full for the page are drawn smaller, and not over each other", async () => {
    const live = await open({}, { context: { viewport: { width: 300, height: 900 } } });
    await live.engrave(chart("corpus/orchard-in-november.plagal"));
    await shot(live.page, "staff-narrow");
    const clear: boolean = await live.page.evaluate(`[...document.querySelectorAll(".bar")].every((bar) => {
      const { left, right } = bar.getBoundingClientRect();
      return right > left && left >= 0 && right <= innerWidth;
    })`);
    expect(clear).toBe(true);
    await close(live);
  });

  test.each([
    ["vscode-dark", "rgb(236, 233, 225)"],
    ["vscode-high-contrast", "rgb(255, 255, 255)"],
    ["vscode-high-contrast-light", "rgb(0, 0, 0)"],
    ["vscode-light", "rgb(28, 27, 25)"],
  ])("its ink is that of the page: %s", async (theme, ink) => {
    const live = await open({}, { theme });
    await live.engrave(harbour);
    await shot(live.page, `staff-${theme}`);
    const inks = await live.page.evaluate<string[]>(`[...new Set(
      [...document.querySelectorAll(".staff .measure :is(path, use, text.chord)")].flatMap((it) => {
        const { fill, stroke, visibility } = getComputedStyle(it);
        return visibility === "hidden" ? [] : [fill, it.localName === "path" ? stroke : fill];
      }))]`);
    expect(inks).toEqual([ink]);
    await close(live);
  });

  test("words of a chart stay words", async () => {
    const live = await open();
    const [, text = ""] = hostileCharts.find(([name]) => name === "markup in every text") ?? [];
    const more =
      'chords | 1 |\nlead | 1 |\nwords | <img/src=x/onerror=alert(1)> |\ncue | "></text><script>1</script> |\n';
    await live.engrave(`${text}\nsection Further\n${more}`);
    const { page } = live;
    const names: string[] = await page.evaluate(
      `[...new Set([...document.querySelectorAll(".staff *")].map(({ localName }) => localName))]`,
    );
    const known = ["svg", "defs", "g", "path", "use", "text", "ellipse", "polygon", "polyline", "rect"];
    expect(names.filter((name) => !known.includes(name))).toEqual([]);
    const attributes: string[] = await page.evaluate(
      `[...new Set([...document.querySelectorAll(".staff *")].flatMap((it) => it.getAttributeNames()))]`,
    );
    expect(attributes.filter((name) => /^on|style|^xlink|src/i.test(name))).toEqual([]);
    expect(await texts(live, ".staff .syllable")).toContain("<img/src=x/onerror=alert(1)>");
    expect(await texts(live, ".staff .said")).toContain('"></text><script>1</script>');
    await close(live);
  });

  test("hostile charts are engraved or left as names, and nothing hangs", async () => {
    const live = await open();
    for (const [name, text] of hostileCharts) {
      // What they show takes the sheet its time; here it is the staff's.
      if (text.length > 20_000) continue;
      await live.engrave(text, `memory:/${name}`);
    }
    await live.engrave(harbour);
    expect(await live.page.locator(".staff svg").count()).toBe(2);
    await close(live);
  });

  test("long charts are engraved from where they are looked at, and what is looked at stays", async () => {
    const live = await open({}, { context: still });
    const { page } = live;
    const engraver = await holdBack(live);
    await page.evaluate(`
      window.idle = [];
      window.requestIdleCallback = (run) => idle.push(run);`);
    await live.show(longChart(256), { staff: true });
    const next = (): Promise<void> =>
      page.evaluate(`{ const run = idle.shift(); run?.({ timeRemaining: () => 50 }); }`);
    const left = (): Promise<number> => page.evaluate("idle.length");
    // All bars are there before anything is engraved.
    while ((await page.locator(".bar").count()) < 256) await next();
    await page.evaluate(`document.getElementById("b0-140").scrollIntoView({ block: "center" })`);
    await watch(live);
    engraver.come();
    await page.waitForFunction("idle.length > 0");
    // What is seen are frames; the first bar that is seen whole is to stay where it is in each of them.
    await page.evaluate(`{
      const bar = [...document.querySelectorAll(".bar")].find((it) => it.getBoundingClientRect().top >= 0);
      window.looked = bar.id;
      window.tops = [];
      const look = () => {
        tops.push(bar.isConnected ? bar.getBoundingClientRect().top : NaN);
        requestAnimationFrame(look);
      };
      look();
    }`);
    const framesShown = (): Promise<void> =>
      page.evaluate(`new Promise((resolve) => {
        requestAnimationFrame(() => requestAnimationFrame(() => requestAnimationFrame(() => resolve())));
      })`);
    for (let i = 0; i < 100 && ((await left()) > 0 || (await page.locator("[aria-busy]").count()) > 0); i++) {
      await next();
      await framesShown();
    }
    const tops: number[] = await page.evaluate("tops");
    const moved = Math.max(...tops.map((top) => Math.abs(top - (tops[0] as number))));
    expect(await page.locator("[aria-busy]").count()).toBe(0);
    const drawn: string[] = await page.evaluate("drawn");
    expect(drawn).toHaveLength(8);
    expect(drawn[0]).toBe("b0-128");
    expect(moved).toBeLessThanOrEqual(2);
    expect(await page.locator(".staff .measure").count()).toBe(256);
    const astray: string[] = await page.evaluate(`{
      const measures = [...document.querySelectorAll(".staff .measure")];
      [...document.querySelectorAll(".bar")].flatMap((bar, i) => {
        const [over, drawn] = [bar, measures[i]].map((it) => it.getBoundingClientRect());
        return drawn.top >= over.top && drawn.bottom <= over.bottom + 1 ? [] : [bar.id];
      });
    }`);
    // Each bar lies over where it is drawn: a bar that was left behind would stay, too.
    expect(astray).toEqual([]);
    await close(live);
  });

  test("on the stand it is turned by its lines", async () => {
    const live = await open({ stand: true }, { context: still });
    await live.engrave(longChart(32));
    await shot(live.page, "staff-stand");
    const { page } = live;
    const cut = (): Promise<number> =>
      page.evaluate(`[...document.querySelectorAll(".staff .line")].filter((it) => {
        const { top, bottom } = it.getBoundingClientRect();
        return top < -1 && bottom > 1;
      }).length`);
    const seen = new Set<number>();
    const lines = await page.locator(".staff .line").count();
    for (let i = 0; i < 20 && seen.size < lines; i++) {
      for (const line of await page.evaluate<number[]>(
        `[...document.querySelectorAll(".staff .line")].map((it, i) => [i, it.getBoundingClientRect()])
          .filter(([, { top, bottom }]) => top >= -1 && bottom <= innerHeight + 1).map(([i]) => i)`,
      ))
        seen.add(line);
      expect(await cut()).toBe(0);
      await page.keyboard.press("PageDown");
    }
    expect(lines).toBeGreaterThan(4);
    expect(seen.size).toBe(lines);
    await close(live);
  });
});

async function shot(page: Page, name: string): Promise<void> {
  const folder = process.env.PLAGAL_SCREENS;
  if (!folder) return;
  mkdirSync(folder, { recursive: true });
  await page.screenshot({ path: join(folder, `${name}.png`), fullPage: true });
}
