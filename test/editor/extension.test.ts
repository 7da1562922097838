import { readFileSync } from "node:fs";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, describe, expect, test } from "vitest";
import { root } from "../support/root.js";
import { charts, placeOf, sample } from "./charts.js";
import { editorMissing } from "./editor-ready.js";
import { type EditorHost, type OpenedEditor, openEditor, packed, tellFailure } from "./real-editor.js";
import {
  colouredParts,
  eventually,
  fileText,
  focusText,
  goTo,
  hoverAtCursor,
  listRows,
  offersAtCursor,
  problemsShown,
  run,
  screen,
  styles,
  untilText,
  visibleLines,
  wordsOf,
} from "./workbench.js";

const missing = editorMissing();
const hosts: readonly EditorHost[] = ["desktop", "web"];
const lines = sample.trimEnd().split("\n");
/** The one thing to mend in the sample: the natural third under a suspended chord. */
const wrong = placeOf(sample, /^right/, "b7+3+5", 3);

describe.skipIf(missing !== undefined).each(hosts)("in the real editor, %s", (host) => {
  let editor: OpenedEditor;
  let page: Page;

  beforeAll(async () => {
    editor = await openEditor(host, packed(), charts);
    page = editor.page;
    await editor.open("first-light.plagal");
    await problemsShown(page, 1);
  }, 180_000);
  afterAll(() => editor?.end());
  afterEach(async ({ task }) => {
    await tellFailure(editor, `${host} ${task.name}`, task.result?.state);
    // What a test left changed is not the next one's matter.
    await page.keyboard.press("Escape");
    await page.keyboard.press("Escape");
    const isAsBefore = async () => fileText(await visibleLines(page)) === fileText(lines);
    if (await isAsBefore()) return;
    // Undone before the page is loaded anew: what was changed outlives that, and the way back doesn't.
    await focusText(page).catch(() => undefined);
    for (let i = 0; i < 20 && !(await isAsBefore()); i++) {
      await page.keyboard.press("Control+z");
      await page.waitForTimeout(200);
    }
    if (await isAsBefore()) return;
    await editor.open("first-light.plagal");
    await problemsShown(page, 1);
  });

  test("the parts of a chart have colours that differ", async () => {
    const colours = await styles(page, colouredParts, "color");
    expect(new Set(colours).size).toBeGreaterThanOrEqual(6);
  });

  test("a wavy line stands under the tone that fights its chord, and nowhere else", async () => {
    await eventually(() => page.locator(".squiggly-warning").count()).toBe(1);
    expect(await page.locator(".squiggly-error").count()).toBe(0);
    await goTo(page, wrong.line, wrong.column);
    const words = await wordsOf(await hoverAtCursor(page));
    expect(words).toContain("contradicts B♭9sus");
    expect(words).toContain("outside-chord");
  });

  test("the code of a problem opens its page", async () => {
    await goTo(page, wrong.line, wrong.column);
    const hover = await hoverAtCursor(page);
    await hover.locator("a", { hasText: "outside-chord" }).click();
    const tab = page.locator(".tab", { hasText: "outside-chord.md" });
    await tab.waitFor();
    // The page has the keyboard now, or gets it any moment, so it is closed by its tab.
    await tab.locator(".codicon-close").click();
    await tab.waitFor({ state: "hidden" });
  });

  test("pointing at a tone says its notes, at a chord what it does", async () => {
    const tone = placeOf(sample, /^right/, "3+5+2");
    await goTo(page, tone.line, tone.column);
    const words = await wordsOf(await hoverAtCursor(page));
    expect(words).toContain("G3");
    expect(words).toContain("E♭");
    await screen(page, `hover-${host}`);
    await page.keyboard.press("Escape");
    const chord = placeOf(sample, /^chords/, "2:9");
    await goTo(page, chord.line, chord.column);
    expect(await wordsOf(await hoverAtCursor(page))).toMatch(/F9/);
  });

  test("what is offered after a degree is a chord, and taking it makes no error", async () => {
    const end = placeOf(sample, /^chords/, "5:7♭9", 5);
    await goTo(page, end.line, end.column);
    await page.keyboard.type("   2:");
    await page.keyboard.press("Control+Space");
    const rows = page.locator(".suggest-widget.visible .monaco-list-row");
    await rows.first().waitFor();
    await screen(page, `completion-${host}`);
    expect(await wordsOf(rows.first())).toMatch(/2:|9|7|sus/);
    await page.keyboard.press("Tab");
    const now = await untilText(page, (it) => /5:7♭9 {3}2:\S+ /.test(it[end.line - 1] ?? ""));
    expect(now[end.line - 1]).toMatch(/2:(?:9|7|13|[0-9a-z#b♭♯()]+)/);
    await page.waitForTimeout(1000);
    expect(await page.locator(".squiggly-error").count()).toBe(0);
  });

  test("the light bulb's offer mends it, and one undo brings it back", async () => {
    await goTo(page, wrong.line, wrong.column);
    const title = "Play the 4 (E♭)";
    const offer = (await offersAtCursor(page, title)).filter({ hasText: title });
    await screen(page, `quick-fix-${host}`);
    // It is the first, so it is chosen already.
    await eventually(() => offer.getAttribute("class")).toContain("focused");
    await page.keyboard.press("Enter");
    await untilText(page, (it) => (it[wrong.line - 1] ?? "").includes("b7+4+5"));
    await problemsShown(page, 0);
    await focusText(page);
    await page.keyboard.press("Control+z");
    await untilText(page, (it) => fileText(it) === fileText(lines));
    await problemsShown(page, 1);
  });

  test("moving to another key changes the key line alone, keeps the cursor, and is undone at once", async () => {
    const cursor = placeOf(sample, /^lead/, "6 -");
    await goTo(page, cursor.line, cursor.column);
    await run(page, "Plagal: Move to Another Key…");
    await eventually(() => listRows(page).first().getAttribute("aria-setsize")).toBe("12");
    await screen(page, `key-picker-${host}`);
    await page.keyboard.type("g");
    await eventually(async () => wordsOf(listRows(page).first())).toMatch(/^G major/);
    expect(await wordsOf(listRows(page).first())).toMatch(/1 sharp.*up a major third.*F♯4 to E5/i);
    await page.keyboard.press("Enter");
    const moved = lines.with(2, "key     G major (original E♭)");
    await untilText(page, (it) => fileText(it) === fileText(moved));
    await page.locator(".statusbar", { hasText: `Ln ${cursor.line}, Col ${cursor.column}` }).waitFor();
    await focusText(page);
    await page.keyboard.press("Control+z");
    await untilText(page, (it) => fileText(it) === fileText(lines));
    await page.locator(".statusbar", { hasText: `Ln ${cursor.line}, Col ${cursor.column}` }).waitFor();
  });

  test("another mode typed in the picker is said to stay", async () => {
    await focusText(page);
    await run(page, "Plagal: Move to Another Key…");
    await listRows(page).first().waitFor();
    await page.keyboard.type("F minor");
    await eventually(async () => wordsOf(listRows(page).first())).toMatch(/^F major.*A move keeps the mode/);
  });

  test("one item tells the key, the tempo and the problems of the chart in front", async () => {
    await eventually(async () => {
      await page.locator("#status\\.languageStatus").click();
      const words = await wordsOf(page.locator(".hover-language-status").first()).catch(() => "");
      if (!words.includes("E♭")) await page.keyboard.press("Escape");
      return words;
    }).toMatch(/E♭ major, 70 bpm.*1 warning/);
  });

  test("every command is in the palette, under one name", async () => {
    const { contributes } = JSON.parse(readFileSync(join(root, "package.json"), "utf8"));
    await goTo(page, 8, 1);
    await page.keyboard.press("Shift+ArrowDown");
    await page.keyboard.press("F1");
    const input = page.locator(".quick-input-widget input");
    await input.fill(">Plagal: ");
    await listRows(page).first().waitFor();
    await screen(page, `commands-${host}`);
    // The list draws what is in view alone, so each is asked for by its name.
    for (const { title } of contributes.commands) {
      await input.fill(`>Plagal: ${title}`);
      await listRows(page)
        .filter({ hasText: `Plagal: ${title}` })
        .first()
        .waitFor();
    }
  });

  test("practising in twelve keys writes the form, and is undone at once", async () => {
    await focusText(page);
    await run(page, "Plagal: Practise in Twelve Keys…");
    await listRows(page).first().waitFor();
    await page.keyboard.press("Enter");
    const now = await untilText(page, (it) => it.some((line) => /^form\b.*\bin A[b♭]/.test(line)));
    expect(now.filter((line) => /^form\b/.test(line)).join(" ")).toMatch(/in D[b♭]/);
    await focusText(page);
    await page.keyboard.press("Control+z");
    await untilText(page, (it) => fileText(it) === fileText(lines));
  });

  test("the walkthrough opens, and its first button opens the sample", async () => {
    await run(page, "Welcome: Open Walkthrough...");
    await page.keyboard.type("Your first chart");
    await listRows(page).filter({ hasText: "Your first chart" }).first().waitFor();
    await page.keyboard.press("Enter");
    const button = page.locator(".getting-started-step a, .getting-started-step button", {
      hasText: "Open the Sample",
    });
    await button.first().waitFor();
    await screen(page, `walkthrough-${host}`);
    await button.first().click();
    await page.locator(".tab.active[data-resource-name^='Untitled']").waitFor();
    await untilText(page, (it) => fileText(it) === fileText(lines));
    await problemsShown(page, 1);
  });

  test("a new chart comes with rows to fill and nothing to mend", async () => {
    await focusText(page);
    await run(page, "Plagal: Start a New Chart");
    const now = await untilText(
      page,
      (it) =>
        it.some((line) => line.startsWith("chords")) && !it.some((line) => line.includes("First Light")),
    );
    expect(now.some((line) => line.startsWith("key"))).toBe(true);
    await page.waitForTimeout(1000);
    expect(await page.locator(".squiggly-error").count()).toBe(0);
  });

  test("sections of another chart are found, and lead there", async () => {
    await editor.open("evening.plagal");
    await untilText(page, (it) => it.some((line) => line.startsWith("form")));
    const place = placeOf(charts["evening.plagal"] as string, /^form/, "Walk", 1);
    await goTo(page, place.line, place.column);
    await eventually(async () => {
      await focusText(page);
      await page.keyboard.press("F12");
      await page.waitForTimeout(300);
      return page.locator(".tab.active").getAttribute("data-resource-name");
    }).toBe("walk.plagal");
    expect(await page.locator(".squiggly-error").count()).toBe(0);
  });
});
