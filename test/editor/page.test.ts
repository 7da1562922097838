import type { Frame, FrameLocator, Locator, Page, Request } from "playwright-core";
import { afterAll, afterEach, beforeAll, describe, expect, test } from "vitest";
import { charts, placeOf, sample } from "./charts.js";
import { editorMissing } from "./editor-ready.js";
import { type EditorHost, type OpenedEditor, openEditor, packed, tellFailure } from "./real-editor.js";
import {
  eventually,
  fileText,
  focusText,
  goTo,
  problemsShown,
  run,
  screen,
  untilText,
  visibleLines,
} from "./workbench.js";

const missing = editorMissing();
const hosts: readonly EditorHost[] = ["desktop", "web"];
const lines = sample.trimEnd().split("\n");

/** Sixty-four bars, so that the page has to be scrolled. */
const long = [
  "title   The Long Way Down",
  "key     F major",
  "tempo   80",
  "",
  "section Walk",
  ...Array.from({ length: 16 }, () =>
    [
      "chords  | 1     | 4     | 5:7    | 1     |",
      "right   | 3+5+1 | 1+3+5 | b7+3+5 | 3+5+1 |",
      "words   | one   | two   | three  | four  |",
      "",
    ].join("\n"),
  ),
].join("\n");
/** The line, counted from 1, of the words of a system, counted from 0. */
const wordsLine = (system: number): number => 8 + system * 4;

describe.skipIf(missing !== undefined).each(hosts)(
  "the page beside the text, in the real editor, %s",
  (host) => {
    let editor: OpenedEditor;
    let page: Page;
    let sheet: FrameLocator;

    beforeAll(async () => {
      editor = await openEditor(host, packed(), { ...charts, "long.plagal": long });
      page = editor.page;
      await editor.open("first-light.plagal");
      await problemsShown(page, 1);
      sheet = page.frameLocator("iframe.webview").frameLocator("iframe#active-frame");
    }, 180_000);
    afterAll(() => editor?.end());
    afterEach(async ({ task }) => {
      await tellFailure(editor, `${host} ${task.name}`, task.result?.state);
    });

    const pages = (): Locator => page.locator(".tab", { hasText: /^Page: / });
    const here = (): Promise<readonly string[]> =>
      sheet.locator(".here").evaluateAll((all) => all.map((it) => (it as unknown as { id: string }).id));
    /** The document of the page. */
    async function frame(): Promise<Frame> {
      const found = await (await sheet.locator("html").elementHandle())?.ownerFrame();
      if (!found) throw new Error("the page has no document");
      return found;
    }
    /** Gives the text the keyboard, in whichever group it is. */
    async function toText(): Promise<void> {
      const ends = [".native-edit-context", "textarea.inputarea"];
      const text = page.locator(ends.map((it) => `.editor-group-container .monaco-editor ${it}`).join(", "));
      await text.first().focus();
      await eventually(hasKeyboard).toBe(true);
      await focusText(page);
    }
    const hasKeyboard = (): Promise<boolean> =>
      page.evaluate("document.activeElement?.closest('.editor-instance .monaco-editor') !== null");
    const cursorAt = ({ line, column }: { readonly line: number; readonly column: number }): Promise<void> =>
      page.locator(".statusbar", { hasText: `Ln ${line}, Col ${column}` }).waitFor();
    const title = (): Promise<string | null> => sheet.locator("h1").textContent();
    async function openSettings(): Promise<void> {
      if ((await sheet.locator("details[open]").count()) === 0) await sheet.locator("summary").click();
    }
    /** Opens a chart of the folder in front, beside the page. */
    async function bringToFront(name: string): Promise<void> {
      await toText();
      await page.locator(".explorer-folders-view .monaco-list-row", { hasText: name }).click();
      await page.locator(`.tab.active[data-resource-name="${name}"]`).waitFor();
      await toText();
    }
    async function undoAll(wanted: readonly string[]): Promise<void> {
      await toText();
      for (let i = 0; i < 60 && fileText(await visibleLines(page)) !== fileText(wanted); i++)
        await page.keyboard.press("Control+z");
      await untilText(page, (it) => fileText(it) === fileText(wanted));
    }

    test("opens beside the text and leaves the keyboard there", async () => {
      await focusText(page);
      await run(page, "Plagal: Show the Page Beside the Text");
      await sheet.locator("h1").waitFor();
      await eventually(title).toBe("First Light on the Sill");
      await screen(page, `page-${host}`);
      await eventually(hasKeyboard).toBe(true);
    });

    test("asked for again it is the same page", async () => {
      await focusText(page);
      await run(page, "Plagal: Show the Page Beside the Text");
      await page.waitForTimeout(500);
      expect(await pages().count()).toBe(1);
      expect(await page.locator("iframe.webview").count()).toBe(1);
      await eventually(hasKeyboard).toBe(true);
    });

    test("marks the bar that the cursor is in", async () => {
      for (const [row, words, id] of [
        [/^chords/, "6m7", "b0-2"],
        [/^right/, "b7+3+5", "b0-1"],
        [/^words/, "stay", "b0-3"],
      ] as const) {
        const { line, column } = placeOf(sample, row, words, 1);
        await goTo(page, line, column);
        await eventually(here).toEqual([id]);
      }
      await goTo(page, 3, 1);
      await eventually(here).toEqual([]);
    });

    test("engraves the hands as a staff, and the editor refuses nothing of it", async () => {
      const refused: string[] = [];
      page.on("console", (message) => {
        if (/content security policy/i.test(message.text())) refused.push(message.text());
      });
      await openSettings();
      await sheet.locator("#hands").selectOption("staff");
      await sheet.locator(".staff svg").nth(1).waitFor({ timeout: 60_000 });
      await eventually(async () => (await frame()).evaluate("document.querySelector('[aria-busy]')")).toBe(
        null,
      );
      expect(await sheet.locator(".staff .measure").count()).toBe(7);
      await screen(page, `page-staff-${host}`);
      await sheet.locator(".staff").first().scrollIntoViewIfNeeded();
      await screen(page, `page-staff-lines-${host}`);
      expect(refused).toEqual([]);
      await sheet.locator("#hands").selectOption("names");
      await eventually(() => sheet.locator(".staff svg").count()).toBe(0);
      await sheet.locator("summary").click();
    });

    test("a press puts the cursor into the text, a double one the keyboard too", async () => {
      await sheet.locator("#b1-1 .right >> nth=1").click();
      await eventually(here).toEqual(["b1-1"]);
      await toText();
      await cursorAt(placeOf(sample, /^right {3}\| 3\+b7/, "b7+b9+3"));
      await sheet.locator("#b0-3 .lead >> nth=0").dblclick();
      await eventually(hasKeyboard).toBe(true);
      await cursorAt(placeOf(sample, /^lead/, "1 -   - <7"));
    });

    test("shows another key, and the text stays as it is", async () => {
      await openSettings();
      await sheet.locator("#key").selectOption("G");
      await eventually(() => sheet.locator("#b0-0 .chords b").first().textContent()).toBe("G");
      await screen(page, `page-key-${host}`);
      await toText();
      expect(fileText(await visibleLines(page))).toBe(fileText(lines));
      expect(await page.locator(".tab.dirty").count()).toBe(0);
      // A press leads to the same place as at home.
      await sheet.locator("#b0-3 .lead >> nth=0").dblclick();
      await cursorAt(placeOf(sample, /^lead/, "1 -   - <7"));
      await sheet.locator("#key").selectOption("Eb");
      await eventually(() => sheet.locator("#b0-0 .chords b").first().textContent()).toBe("E♭");
    });

    test("the tempo is written by one command, shown on the page, and gone with one undo", async () => {
      await toText();
      await run(page, "Plagal: Set the Tempo…");
      const input = page.locator(".quick-input-widget input");
      await eventually(() => input.inputValue()).toBe("70");
      await input.fill("0");
      await page.locator(".quick-input-widget", { hasText: "1 to 999" }).waitFor();
      await input.fill("96");
      await page.keyboard.press("Enter");
      const after = lines.with(4, "tempo   96");
      await untilText(page, (it) => fileText(it) === fileText(after));
      await sheet.locator(".sheet header .facts", { hasText: "96 beats a minute" }).waitFor();
      await toText();
      await page.keyboard.press("Control+z");
      await untilText(page, (it) => fileText(it) === fileText(lines));
      await sheet.locator(".sheet header .facts", { hasText: "70 beats a minute" }).waitFor();
    });

    test("after a burst of typing it shows the last version", async () => {
      await goTo(page, 1, (lines[0] as string).length + 1);
      const typed = " and the lamps of the harbour went out one by one till morning";
      await page.keyboard.type(typed);
      await eventually(title).toBe(`First Light on the Sill${typed}`);
      await undoAll(lines);
      await eventually(title).toBe("First Light on the Sill");
    });

    test("nothing runs or loads in it that isn't the extension's own", async () => {
      const outside: Request[] = [];
      page.on("request", (it) => {
        if (it.url().includes("outside.invalid")) outside.push(it);
      });
      const document = await frame();
      // Later, since what the test runs itself may evaluate texts.
      const { ran, refused } = await document.evaluate<{ ran: unknown; refused: readonly string[] }>(`
        new Promise((resolve) => {
          const refused = [];
          addEventListener("securitypolicyviolation", ({ effectiveDirective, blockedURI }) =>
            refused.push(effectiveDirective + " " + blockedURI));
          const add = (tag, fields, attributes = {}) => {
            const it = Object.assign(document.createElement(tag), fields);
            for (const [name, value] of Object.entries(attributes)) it.setAttribute(name, value);
            document.body.append(it);
            return it;
          };
          const dare = (run) => { try { run(); } catch {} };
          setTimeout(() => {
            add("script", { textContent: "window.ran = 'inline'" });
            add("script", { src: "https://outside.invalid/script.js" });
            add("script", { src: "data:text/javascript,window.ran='data'" });
            add("p", {}, { onclick: "window.ran = 'handler'" }).click();
            add("img", { src: "https://outside.invalid/image.png" });
            add("iframe", { src: "https://outside.invalid/frame" });
            add("style", { textContent: "body { opacity: 0.5 }" });
            add("link", { rel: "stylesheet", href: "https://outside.invalid/style.css" });
            add("a", { href: "javascript:window.ran='address'" }).click();
            dare(() => void fetch("https://outside.invalid/fetch").catch(() => {}));
            dare(() => new WebSocket("wss://outside.invalid/socket"));
            dare(() => navigator.sendBeacon("https://outside.invalid/beacon", "x"));
            dare(() => eval("window.ran = 'eval'"));
            dare(() => new Function("window.ran = 'function'")());
            dare(() => setTimeout("window.ran = 'timer'", 0));
            dare(() => new Worker(URL.createObjectURL(new Blob(["1"]))));
            setTimeout(() => resolve({ ran: window.ran, refused }), 1500);
          }, 0);
        })`);
      expect(ran).toBeUndefined();
      for (const wanted of [
        /^script-src-elem inline/,
        /^script-src-elem https:\/\/outside/,
        /^script-src-elem data/,
        /^script-src-attr inline/,
        /^img-src https:\/\/outside/,
        /^frame-src https:\/\/outside/,
        /^style-src-elem inline/,
        /^style-src-elem https:\/\/outside/,
        /^connect-src https:\/\/outside.invalid\/fetch/,
        /^connect-src wss:\/\/outside/,
        /^connect-src https:\/\/outside.invalid\/beacon/,
        /^script-src eval/,
        /^worker-src blob/,
      ])
        expect(refused, String(wanted)).toContainEqual(expect.stringMatching(wanted));
      // What the browser tells of was stopped before it left.
      for (const it of outside) expect(it.failure()?.errorText, it.url()).toBe("csp");
      // It is as it was.
      expect(await title()).toBe("First Light on the Sill");
      await run(page, "Developer: Reload Webviews");
      await eventually(title).toBe("First Light on the Sill");
    });

    test("turns to the chart in front unless it is kept to its own", async () => {
      await bringToFront("letters.plagal");
      await pages().filter({ hasText: "Page: letters" }).waitFor();
      await eventually(() => sheet.locator("h2").textContent()).toBe("A");
      expect(await pages().count()).toBe(1);
      await openSettings();
      await sheet.locator("#pin").click();
      await bringToFront("long.plagal");
      await page.waitForTimeout(1000);
      await pages().filter({ hasText: "Page: letters" }).waitFor();
      expect(await sheet.locator("h2").textContent()).toBe("A");
      // For the other chart there is another page then.
      await run(page, "Plagal: Show the Page Beside the Text");
      await pages().filter({ hasText: "Page: long" }).waitFor();
      expect(await pages().count()).toBe(2);
      await pages().filter({ hasText: "Page: letters" }).locator(".codicon-close").click();
      await eventually(() => pages().count()).toBe(1);
      await eventually(title).toBe("The Long Way Down");
    });

    test("stays where it is over fifty edits of the text", async () => {
      await toText();
      await goTo(page, wordsLine(8), 14);
      await eventually(here).toEqual(["b0-32"]);
      const document = await frame();
      const scrolled = (): Promise<number> => document.evaluate("Math.round(scrollY)");
      // A little further than it went by itself, with the bar still in sight.
      await eventually(scrolled).toBeGreaterThan(300);
      await page.waitForTimeout(500);
      await document.evaluate("scrollBy({ top: 40, behavior: 'instant' })");
      const before = await scrolled();
      await document.evaluate(
        "window.scrolls = []; addEventListener('scroll', () => scrolls.push(Math.round(scrollY)))",
      );
      const firstOfBar = (): Promise<string | null> => sheet.locator("#b0-32 .words").textContent();
      for (let i = 0; i < 50; i++) {
        await page.keyboard.press(i % 2 === 0 ? "s" : "Backspace");
        // Some of them are shown before the next comes, some aren't.
        if (i % 5 === 0) await eventually(firstOfBar).toBe(i % 2 === 0 ? "ones" : "one");
      }
      await page.keyboard.type("s");
      await eventually(firstOfBar).toBe("ones");
      expect(await scrolled()).toBe(before);
      expect(await document.evaluate(`scrolls.filter((it) => it !== ${before})`)).toEqual([]);
      await page.keyboard.press("Backspace");
      await eventually(firstOfBar).toBe("one");
      // The text is where it was, too: nothing that the page does moves it.
      expect((await visibleLines(page)).join("\n")).toContain("words");
      await cursorAt({ line: wordsLine(8), column: 14 });
    });

    test("comes back with its look and its place after the window was loaded anew", async () => {
      await openSettings();
      await sheet.locator("#chords").selectOption("numbers");
      await sheet.locator("#paper").selectOption("dark");
      await sheet.locator("#pin").click();
      const document = await frame();
      await document.evaluate(
        `document.getElementById("b0-40").scrollIntoView({ block: "start", behavior: "instant" })`,
      );
      await page.waitForTimeout(1000);
      // Without what opens a chart: the page alone is there then.
      const address = new URL(page.url());
      address.searchParams.delete("payload");
      await run(page, "File: Save");
      for (const name of ["long.plagal", "letters.plagal", "first-light.plagal"]) {
        const tab = page.locator(`.tab[data-resource-name="${name}"]`);
        if ((await tab.count()) > 0) await tab.locator(".codicon-close").click();
      }
      await eventually(() => page.locator(".tab").count()).toBe(1);
      // In a browser the editor saves what it remembers every five seconds, and not when its window goes.
      await page.waitForTimeout(11_000);
      await page.goto(address.href);
      await pages().waitFor({ timeout: 60_000 });
      await eventually(title).toBe("The Long Way Down");
      expect(
        await (await frame()).evaluate(
          "(({ chords, paper }) => ({ chords, paper }))(document.documentElement.dataset)",
        ),
      ).toEqual({ chords: "numbers", paper: "dark" });
      const top = async (): Promise<number> =>
        (await frame()).evaluate(`document.getElementById("b0-40").getBoundingClientRect().top`);
      await eventually(async () => Math.abs(await top()) < 100).toBe(true);
      expect(await sheet.locator("#pin").getAttribute("aria-pressed")).toBe("true");
      await screen(page, `page-again-${host}`);
      // A press brings its text back, beside the page and not before it.
      await sheet.locator("#b0-40 .words").click();
      await page.locator(`.tab[data-resource-name="long.plagal"]`).waitFor();
      await eventually(here).toEqual(["b0-40"]);
      expect(await page.locator(".editor-group-container").count()).toBe(2);
      expect(await sheet.locator("#b0-40").isVisible()).toBe(true);
    });

    // Settings of the web editor are fixed when it starts.
    if (host === "web") return;
    test.each([
      ["light", "Default Light Modern", "light"],
      ["dark", "Default Dark Modern", "dark"],
      ["high-contrast", "Default High Contrast", "high-contrast"],
      ["high-contrast-light", "Default High Contrast Light", "print"],
    ])("wears the %s theme of the editor", async (name, theme, paper) => {
      editor.set({ "workbench.colorTheme": theme });
      await editor.open("first-light.plagal");
      await problemsShown(page, 1);
      await toText();
      await run(page, "Plagal: Show the Page Beside the Text");
      await eventually(title).toBe("First Light on the Sill");
      await openSettings();
      await sheet.locator("#paper").selectOption("editor");
      await sheet.locator("#chords").selectOption("both");
      await eventually(async () => (await frame()).evaluate("document.documentElement.dataset.paper")).toBe(
        paper,
      );
      await screen(page, `page-${name}-settings`);
      await sheet.locator("#stand").click();
      await screen(page, `page-${name}-stand`);
      await page.keyboard.press("Escape");
      await sheet.locator("summary").click();
      await toText();
      await goTo(page, 8, 40);
      await eventually(here).toEqual(["b0-1"]);
      await screen(page, `page-${name}`);
    });
  },
);
