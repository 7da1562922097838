import type { Frame, Locator, Page } from "playwright-core";
import { expect } from "vitest";

/** The workbench's commands, as a person uses them: by keys, by words, by pointing. */

/** Puts the cursor at a line and column, both counted from 1. */
export async function goTo(page: Page, line: number, column: number): Promise<void> {
  await focusText(page);
  await page.keyboard.press("Control+g");
  const input = page.locator(".quick-input-widget input");
  await input.waitFor();
  await input.fill(`:${line}:${column}`);
  await page.keyboard.press("Enter");
  await input.waitFor({ state: "hidden" });
}

/** Gives the text the keyboard. */
export async function focusText(page: Page): Promise<void> {
  await page
    .locator(
      ".editor-group-container.active .monaco-editor .native-edit-context, .editor-group-container.active .monaco-editor textarea.inputarea",
    )
    .first()
    .focus();
}

/** Runs a command by its words in the palette; of several that begin alike, the one with just these words. */
export async function run(page: Page, words: string): Promise<void> {
  await page.keyboard.press("F1");
  const input = page.locator(".quick-input-widget input");
  await input.waitFor();
  await input.fill(`>${words}`);
  const row = listRows(page).filter({ has: page.getByText(words, { exact: true }) });
  await row.first().click();
  await row.first().waitFor({ state: "hidden" });
}

/** The rows of the list that is open on top. */
export const listRows = (page: Page): Locator => page.locator(".quick-input-list .monaco-list-row");

/** The active chart's text as far as it is in view, one string a line; blanks are plain spaces. */
export async function visibleLines(page: Page): Promise<readonly string[]> {
  const lines = page.locator(".editor-group-container.active .monaco-editor .view-lines .view-line");
  const found = await lines.evaluateAll((all) =>
    // The page's own types are not known here.
    (all as unknown as { style: { top: string }; textContent: string | null }[]).map((it) => ({
      top: Number.parseFloat(it.style.top),
      text: it.textContent ?? "",
    })),
  );
  return found.sort((a, b) => a.top - b.top).map(({ text }) => text.replaceAll("\u00a0", " "));
}

/** Waits until the text in view is as wanted; says what it is where it doesn't get so. */
export async function untilText(
  page: Page,
  wanted: (lines: readonly string[]) => boolean,
): Promise<readonly string[]> {
  let lines: readonly string[] = [];
  for (let i = 0; i < 200; i++) {
    lines = await visibleLines(page);
    if (wanted(lines)) return lines;
    await page.waitForTimeout(50);
  }
  throw new Error(`the text never got as wanted:\n${lines.join("\n")}`);
}

/** Shows what there is to read at the cursor, and gives its words. */
export async function hoverAtCursor(page: Page): Promise<Locator> {
  await page.keyboard.press("Control+k");
  await page.keyboard.press("Control+i");
  const hover = page.locator(".monaco-hover:not(.hidden) .monaco-hover-content").first();
  await hover.waitFor();
  return hover;
}

/**
 * Opens the light bulb at the cursor, and gives its offers once one of them has these words. Asked again where none
 * came: words that are shown may still have the keyboard when the keys are pressed.
 */
export async function offersAtCursor(page: Page, words: string): Promise<Locator> {
  const offers = page.locator(".action-widget .monaco-list-row");
  const wanted = offers.filter({ hasText: words }).first();
  for (let tries = 3; ; tries--) {
    await focusText(page);
    await page.keyboard.press("Control+.");
    try {
      await wanted.waitFor({ timeout: 10_000 });
      return offers;
    } catch (none) {
      if (tries === 1) throw none;
      await page.keyboard.press("Escape");
    }
  }
}

/** Words of an element with single blanks. */
export const wordsOf = async (place: Locator): Promise<string> =>
  (await place.allInnerTexts()).join(" ").replace(/\s+/g, " ");

/** Lines as one text, without blank ends, to be compared with what is in view. */
export const fileText = (lines: readonly string[]): string =>
  lines
    .map((line) => line.trimEnd())
    .join("\n")
    .trimEnd();

/** Waits until so many wavy lines stand in the chart in front, all of them in view. */
export async function problemsShown(page: Page, count: number): Promise<void> {
  const lines = page.locator(
    [".squiggly-error", ".squiggly-warning"].map((it) => `.editor-group-container.active ${it}`).join(", "),
  );
  let found = -1;
  for (let i = 0; i < 300; i++) {
    found = await lines.count();
    if (found === count) return;
    await page.waitForTimeout(100);
  }
  throw new Error(`${found} wavy lines instead of ${count}`);
}

/** Keeps a picture of the window where PLAGAL_SCREENS names a folder. */
export async function screen(page: Page, name: string): Promise<void> {
  const folder = process.env.PLAGAL_SCREENS;
  if (folder === undefined) return;
  // What fades in is to be there.
  await page.waitForTimeout(500);
  await page.screenshot({ path: `${folder}/${name}.png` });
}

/** A computed style of every element that a selector finds; the page's own types are not known here. */
export const styles = (page: Page, selector: string, name: string): Promise<readonly string[]> =>
  page.locator(selector).evaluateAll((all, name) => {
    type Styled = { getComputedStyle(of: unknown): { getPropertyValue(name: string): string } };
    return all.map((it) => (globalThis as unknown as Styled).getComputedStyle(it).getPropertyValue(name));
  }, name);

/** The parts of the text that have a colour of their own. */
export const colouredParts = ".view-lines .view-line > span > span";

/** Expects what comes true by and by: the workbench draws when it has time. */
export const eventually = (ask: () => unknown): ReturnType<typeof expect.poll> =>
  expect.poll(ask, { timeout: 20_000 });

/** The frame of the page beside the text, once it is drawn. */
export async function pageFrame(page: Page): Promise<Frame> {
  let found: Frame | undefined;
  await eventually(async () => {
    for (const frame of page.frames()) {
      const isOurs = await frame.evaluate("document.querySelector('#play') !== null").catch(() => false);
      if (isOurs) found = frame;
    }
    return found !== undefined;
  }).toBe(true);
  return found as Frame;
}
