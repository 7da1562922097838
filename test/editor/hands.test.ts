import type { Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, describe, expect, test } from "vitest";
import { placeOf } from "./charts.js";
import { editorMissing } from "./editor-ready.js";
import { type EditorHost, type OpenedEditor, openEditor, packed, tellFailure } from "./real-editor.js";
import {
  eventually,
  fileText,
  focusText,
  goTo,
  hoverAtCursor,
  offersAtCursor,
  problemsShown,
  screen,
  untilText,
  visibleLines,
  wordsOf,
} from "./workbench.js";

/** F to A♭ is the one minor tenth that a reach of a ninth holds; from A♭ to C it is a major one. */
const chart = `title   Lamp in the Window
key     F minor
time    4/4
tempo   72

section Verse
chords  | 1m7      | 4m7      | 7:7      | 3maj7   |
lead    | 5 -  3 - | 4 -  3 - | 2 -  1 - | 1 - - - |
right   | b7+b3+5  | b3+5+b7  | b7+3+5   | 5+7+3   |
left    | 1+>b3    | 1+b7     | 1+5      | 1+>3    |
`;
const lines = chart.trimEnd().split("\n");
const wide = placeOf(chart, /^left/, "1+>3 ", 1);
const stretched = placeOf(chart, /^left/, "1+>b3", 1);

const missing = editorMissing();
const hosts: readonly EditorHost[] = ["desktop", "web"];

describe.skipIf(missing !== undefined).each(hosts)(
  "what two hands can play, in the real editor, %s",
  (host) => {
    let editor: OpenedEditor;
    let page: Page;

    beforeAll(async () => {
      editor = await openEditor(host, packed(), { "lamp.plagal": chart });
      page = editor.page;
      await editor.open("lamp.plagal");
      await problemsShown(page, 1);
    }, 180_000);
    afterAll(() => editor?.end());
    afterEach(async ({ task }) => {
      await tellFailure(editor, `${host} ${task.name}`, task.result?.state);
      await page.keyboard.press("Escape");
      await page.keyboard.press("Escape");
      for (let i = 0; i < 20 && fileText(await visibleLines(page)) !== fileText(lines); i++) {
        await focusText(page).catch(() => undefined);
        await page.keyboard.press("Control+z");
        await page.waitForTimeout(200);
      }
    });

    test("a wavy line stands under the grip that the hand can't hold, with the reason and the way out", async () => {
      expect(await page.locator(".squiggly-error").count()).toBe(1);
      await goTo(page, wide.line, wide.column);
      const hover = await hoverAtCursor(page);
      // The problem is there at once, the words about the grip come after it.
      await eventually(() => wordsOf(hover)).toContain("plagal.reach.left");
      const words = await wordsOf(hover);
      expect(words).toContain("The left hand would have to reach from A♭2 to C4: a tenth, 223.3 mm");
      expect(words).toContain("write “reach left 10” at the top");
      await screen(page, `hands-unheld-${host}`);
    });

    test("pointing at a grip says its fingers and how it lies in the twelve keys", async () => {
      await goTo(page, stretched.line, stretched.column);
      const hover = await hoverAtCursor(page);
      await eventually(() => wordsOf(hover)).toContain("5 1, from the lowest key up");
      const words = await wordsOf(hover);
      expect(words).toContain("left hand, reach of a ninth");
      expect(words).toContain("stop if it hurts");
      const keysOf = (strain: string) => wordsOf(hover.locator("tr", { hasText: strain }).first());
      expect(await keysOf("a stretch")).toBe("a stretch F G♯");
      expect(await keysOf("can't be held")).toBe("can't be held C C♯ D E♭ E F♯ G A B♭ B");
      await screen(page, `hands-hover-${host}`);
    });

    test("the light bulb's offer makes it playable, and one undo brings it back", async () => {
      await goTo(page, wide.line, wide.column);
      const offers = await offersAtCursor(page, "Give C4 to the right hand");
      await screen(page, `hands-fix-${host}`);
      for (const title of ["Roll it (~)", "Say that the left hand reaches a tenth (reach left 10)"])
        expect(await offers.filter({ hasText: title }).count()).toBe(1);
      await page.keyboard.press("Enter");
      await untilText(page, (it) => fileText(it) !== fileText(lines));
      await problemsShown(page, 0);
      await focusText(page);
      await page.keyboard.press("Control+z");
      await untilText(page, (it) => fileText(it) === fileText(lines));
      await problemsShown(page, 1);
    });

    // Settings of the web editor are fixed when it starts.
    if (host === "web") return;
    test("settings show the fingers behind the grips, and say the player's reach", async () => {
      // The editor reads settings that were written to its file when the page is loaded.
      editor.set({ "plagal.inlayHints.fingering": true, "plagal.reach.left": 10 });
      await editor.open("lamp.plagal");
      await problemsShown(page, 0);
      await eventually(async () => fileText(await visibleLines(page))).toMatch(
        /^left {4}\| 1\+>b3\W+5\W1\W/m,
      );
      await screen(page, "hands-fingers");
      editor.set({});
      await editor.open("lamp.plagal");
      await problemsShown(page, 1);
      await untilText(page, (it) => fileText(it) === fileText(lines));
    });
  },
);
