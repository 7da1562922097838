import type { Frame, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, describe, expect, test } from "vitest";
import { editorMissing } from "./editor-ready.js";
import { type EditorHost, type OpenedEditor, openEditor, packed, tellFailure } from "./real-editor.js";
import { eventually, focusText, pageFrame, run, visibleLines } from "./workbench.js";

const missing = editorMissing();
const hosts: readonly EditorHost[] = ["desktop", "web"];

/** Lines that say which they are, more than a window shows. */
const systems = 60;
const chart = [
  "title Round the Bay",
  "key C",
  "tempo 120",
  "time 2/4",
  "",
  "section Round",
  ...Array.from({ length: systems }, (_, i) => `right | C4 | E4 |\nwords | at${i} | on${i} |\n`),
].join("\n");

describe.skipIf(missing !== undefined).each(hosts)(
  "the text while its page plays, in the real editor, %s",
  (host) => {
    let editor: OpenedEditor;
    let page: Page;
    beforeAll(async () => {
      editor = await openEditor(host, packed(), { "bay.plagal": chart });
      page = editor.page;
      await editor.open("bay.plagal");
    }, 180_000);
    afterAll(() => editor?.end());
    afterEach(async ({ task }) => {
      await tellFailure(editor, `${host} ${task.name}`, task.result?.state);
    });

    /** The bar that sounds, counted from 0. */
    const sounding = async (frame: Frame): Promise<number> =>
      Number(await frame.evaluate("document.querySelector('.now')?.id.split('-')[1] ?? -1"));
    const isPlaying = (frame: Frame): Promise<boolean> =>
      frame.evaluate("document.querySelector('#play').textContent === 'Pause'");
    /** The lines that are in sight, whichever group has the keyboard. */
    async function seen(): Promise<string> {
      await focusGroup();
      return (await visibleLines(page)).join("\n");
    }
    /** Gives the group of the text the keyboard. */
    async function focusGroup(): Promise<void> {
      const ends = [".native-edit-context", "textarea.inputarea"];
      const inputs = ends.map((it) => `.editor-group-container .monaco-editor ${it}`).join(", ");
      await page.locator(inputs).first().focus();
    }
    const marks = () => page.locator(".monaco-editor [class*='ced-']");

    test("follows what sounds until somebody scrolls it, and again when it is played again", async () => {
      await focusText(page);
      await run(page, "Plagal: Play the Form");
      const frame = await pageFrame(page);
      await eventually(() => isPlaying(frame)).toBe(true);
      // Far enough for the text to have moved by itself, with the mark in sight.
      await expect.poll(async () => (await seen()).includes("at0 "), { timeout: 60_000 }).toBe(false);
      await eventually(() => marks().count()).toBeGreaterThan(0);
      expect(await isPlaying(frame)).toBe(true);

      const text = await page.locator(".editor-group-container .monaco-editor").first().boundingBox();
      if (text === null) throw new Error("there is no text");
      await page.mouse.move(text.x + text.width / 2, text.y + text.height / 2);
      // As a hand does it: notch by notch.
      await eventually(async () => {
        await page.mouse.wheel(0, -200);
        return (await seen()).includes("at0 ");
      }).toBe(true);
      // It goes on in the page, further than the text had to move before, and the text stays.
      const from = await sounding(frame);
      const tops = new Set<boolean>();
      await expect
        .poll(
          async () => {
            tops.add((await seen()).includes("at0 "));
            return await sounding(frame);
          },
          { timeout: 120_000 },
        )
        .toBeGreaterThan(from + 24);
      expect([...tops]).toEqual([true]);

      await frame.evaluate("document.querySelector('#play').click()");
      await eventually(() => isPlaying(frame)).toBe(false);
      await frame.evaluate("document.querySelector('#play').click()");
      await expect.poll(async () => (await seen()).includes("at0 "), { timeout: 60_000 }).toBe(false);
    });
  },
);
