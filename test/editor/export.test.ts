import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, describe, expect, test } from "vitest";
import { charts, placeOf, sample } from "./charts.js";
import { editorMissing } from "./editor-ready.js";
import { type EditorHost, type OpenedEditor, openEditor, packed, tellFailure } from "./real-editor.js";
import { eventually, focusText, goTo, listRows, problemsShown, run, screen } from "./workbench.js";

const missing = editorMissing();
const leadIn = placeOf(sample, /^section Lead-in/, "Lead-in");
const hosts: readonly EditorHost[] = ["desktop", "web"];

describe.skipIf(missing !== undefined).each(hosts)("exporting, in the real editor, %s", (host) => {
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
    await page.keyboard.press("Escape");
    await page.keyboard.press("Escape");
  });

  const choose = async (words: string): Promise<void> => {
    const row = listRows(page).filter({ hasText: words }).first();
    await row.waitFor();
    await row.click();
  };
  const told = (words: RegExp) => page.locator(".notification-list-item-message", { hasText: words });

  test.each([
    ["Sound for other programs", "first-light.mid", "MThd"],
    ["A score for other programs", "first-light.musicxml", "<?xml"],
    ["For the music stand", "first-light.pdf", "%PDF"],
    ["A page that plays itself", "first-light.html", "<!doctype html>"],
    ["A picture of one section", "first-light-Lead-in.svg", "<svg"],
  ])("%s is saved beside the chart, and said where", async (what, name, start) => {
    await focusText(page);
    await goTo(page, leadIn.line, leadIn.column);
    await run(page, "Plagal: Export the Chart…");
    await choose(what);
    if (start === "MThd") await screen(page, `export-keys-${host}`);
    await choose("As it stands");
    // Away from the desktop's own dialogs the editor asks in its list, with the place filled in.
    const input = page.locator(".quick-input-widget input");
    await eventually(() => input.inputValue()).toMatch(new RegExp(`/${name}$`));
    if (start === "MThd") await screen(page, `export-where-${host}`);
    await page.keyboard.press("Enter");
    await told(new RegExp(`Saved to ${name}`)).waitFor();
    if (start === "MThd") await screen(page, `export-saved-${host}`);
    if (host === "desktop") {
      const path = join(editor.folder, name);
      await eventually(() => existsSync(path)).toBe(true);
      expect(readFileSync(path, "latin1").toLowerCase().startsWith(start.toLowerCase())).toBe(true);
    }
  });

  test("all twelve keys go into one folder, and nothing is replaced unasked", async () => {
    const exportAll = async (): Promise<void> => {
      await focusText(page);
      await run(page, "Plagal: Export the Chart…");
      await choose("Sound for other programs");
      await choose("In all twelve keys");
      const input = page.locator(".quick-input-widget input");
      await eventually(() => input.inputValue()).toMatch(/charts\/?$/);
      await page.keyboard.press("Enter");
    };
    await exportAll();
    await told(/12 files saved to/)
      .first()
      .waitFor();
    if (host === "desktop") expect(existsSync(join(editor.folder, "first-light-Gb.mid"))).toBe(true);
    await exportAll();
    const dialog = page.locator(".monaco-dialog-box");
    await dialog.getByText("12 files are there already.").waitFor();
    await screen(page, `export-replace-${host}`);
    await dialog.getByRole("button", { name: "Cancel" }).click();
  });
});
