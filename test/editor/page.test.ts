import type { FrameLocator, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, describe, expect, test } from "vitest";
import { charts } from "./charts.js";
import { editorMissing } from "./editor-ready.js";
import { type EditorHost, type OpenedEditor, openEditor, packed, tellFailure } from "./real-editor.js";
import { eventually, focusText, problemsShown, run, screen } from "./workbench.js";

const missing = editorMissing();
const hosts: readonly EditorHost[] = ["desktop", "web"];

describe.skipIf(missing !== undefined).each(hosts)(
  "the page beside the text, in the real editor, %s",
  (host) => {
    let editor: OpenedEditor;
    let page: Page;
    let sheet: FrameLocator;

    beforeAll(async () => {
      editor = await openEditor(host, packed(), charts);
      page = editor.page;
      await editor.open("first-light.plagal");
      await problemsShown(page, 1);
      sheet = page.frameLocator("iframe.webview").frameLocator("iframe#active-frame");
    }, 180_000);
    afterAll(() => editor?.end());
    afterEach(async ({ task }) => {
      await tellFailure(editor, `${host} ${task.name}`, task.result?.state);
    });

    test("opens beside the text and leaves the keyboard there", async () => {
      await focusText(page);
      await run(page, "Plagal: Show the Page Beside the Text");
      await sheet.locator("h1").waitFor();
      await screen(page, `page-${host}`);
      expect(await sheet.locator("h1").textContent()).toBe("First Light on the Sill");
      await eventually(() =>
        page.evaluate("document.activeElement?.closest('.editor-instance') !== null"),
      ).toBe(true);
    });
  },
);
