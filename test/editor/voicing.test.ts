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
  listRows,
  offersAtCursor,
  problemsShown,
  run,
  screen,
  untilText,
  visibleLines,
  wordsOf,
} from "./workbench.js";

const chart = `title   Ferry at Dusk
key     Eb major
time    4/4
tempo   72

section Verse
chords  | 1maj7   | 6m7     | 2m7     | 5:7     |
lead    | 5 - 3 - | 3 - 1 - | 4 - 6 - | 5 - - - |
`;
const lines = chart.trimEnd().split("\n");
const onChords = placeOf(chart, /^chords/, "6m7", 1);

const missing = editorMissing();
const hosts: readonly EditorHost[] = ["desktop", "web"];

/** The slots of a row, as far as it is in view. */
const slotsOf = (text: readonly string[], row: string): readonly string[] =>
  (text.find((it) => it.startsWith(row)) ?? "")
    .replace(/;.*/, "")
    .split("|")
    .slice(1, -1)
    .map((it) => it.trim());

describe.skipIf(missing !== undefined).each(hosts)(
  "voicings for two hands, in the real editor, %s",
  (host) => {
    let editor: OpenedEditor;
    let page: Page;

    const isBare = (it: readonly string[]): boolean => fileText(it) === fileText(lines);
    const isVoiced = (it: readonly string[]): boolean =>
      ["right", "left"].every((row) => it.some((line) => line.startsWith(row)));
    const undo = async (): Promise<void> => {
      await focusText(page);
      await page.keyboard.press("Control+z");
    };
    /** Fills both hands by the command, in the style of this name. */
    const voice = async (style: string): Promise<readonly string[]> => {
      await focusText(page);
      await run(page, "Plagal: Voice the Chords…");
      const answers = [
        ["For which hand?", "Both hands"],
        ["In which style?", style],
        ["Playable in which keys?", "The keys that it is played in"],
      ] as const;
      for (const [question, words] of answers) {
        // What is further down in a list is not drawn until it is typed.
        await page.locator(`.quick-input-widget input[placeholder="${question}"]`).fill(words);
        await eventually(async () => (await wordsOf(listRows(page).first())).startsWith(words)).toBe(true);
        await page.keyboard.press("Enter");
      }
      return untilText(page, isVoiced);
    };

    beforeAll(async () => {
      editor = await openEditor(host, packed(), { "ferry.plagal": chart });
      page = editor.page;
      await editor.open("ferry.plagal");
    }, 180_000);
    afterAll(() => editor?.end());
    afterEach(async ({ task }) => {
      await tellFailure(editor, `${host} ${task.name}`, task.result?.state);
      await page.keyboard.press("Escape");
      await page.keyboard.press("Escape");
      for (let i = 0; i < 20 && !isBare(await visibleLines(page)); i++) {
        await undo().catch(() => undefined);
        await page.waitForTimeout(200);
      }
    });

    test("the light bulb on a row of chords voices both hands, and one undo takes it back", async () => {
      await goTo(page, onChords.line, onChords.column);
      // There are no problems to wait for: words show that the server is there.
      await eventually(async () => wordsOf(await hoverAtCursor(page)).catch(() => "")).toContain("Cm7");
      await page.keyboard.press("Escape");
      const title = "Voice the chords for both hands: drop 2";
      const offers = await offersAtCursor(page, title);
      // The offers of its kind come first, this one on top: Enter takes it.
      const drop2 = offers.filter({ hasText: title });
      expect(await offers.filter({ hasText: "Voice in another style…" }).count()).toBe(1);
      await screen(page, `voicing-offers-${host}`);
      expect(await drop2.getAttribute("class")).toContain("focused");
      await page.keyboard.press("Enter");
      const text = await untilText(page, isVoiced);
      for (const row of ["right", "left"]) {
        expect(slotsOf(text, row)).toHaveLength(4);
        expect(text.find((it) => it.startsWith(row))).toMatch(/; voiced drop 2$/);
      }
      await screen(page, `voicing-done-${host}`);
      await problemsShown(page, 0);
      await undo();
      await untilText(page, isBare);
    });

    test("the command asks for hands, style and keys", async () => {
      await focusText(page);
      await run(page, "Plagal: Voice the Chords…");
      await listRows(page).filter({ hasText: "Both hands" }).waitFor();
      await screen(page, `voicing-hands-${host}`);
      expect(await wordsOf(listRows(page).first())).toContain("fills 8 empty bars");
      await listRows(page).filter({ hasText: "Both hands" }).click();
      await listRows(page).filter({ hasText: "shell" }).first().waitFor();
      await screen(page, `voicing-styles-${host}`);
      await page.keyboard.press("Escape");
      const text = await voice("close");
      expect(text.filter((it) => /; voiced close$/.test(it))).toHaveLength(2);
      await undo();
      await untilText(page, isBare);
    });

    test("pointing at a voiced slot says why it is as it is, and what came next", async () => {
      const text = await voice("close");
      const at = text.findIndex((it) => it.startsWith("right"));
      const slot = slotsOf(text, "right")[1] ?? "";
      await goTo(page, at + 1, (text[at] ?? "").indexOf(slot, (text[at] ?? "").indexOf("|", 10)) + 2);
      const hover = await hoverAtCursor(page);
      await eventually(() => wordsOf(hover)).toContain("Voiced close: the best of its voicings here.");
      const words = await wordsOf(hover);
      expect(words).toContain("half steps that the voices move from the chord before");
      expect(words).toMatch(/The runner-up, [^.]*hand [A-G]\S*\d/);
      await screen(page, `voicing-why-${host}`);
    });

    test("the chart is made to fit smaller hands in one edit", async () => {
      const text = await voice("two-hand");
      await run(page, "Plagal: Revoice for a Smaller Hand…");
      for (const words of ["A seventh", "Both hands"]) {
        const row = listRows(page).filter({ has: page.getByText(words, { exact: true }) });
        await row.first().click();
        await row.first().waitFor({ state: "hidden" });
      }
      const now = await untilText(page, (it) => it.some((line) => /^reach {3}7$/.test(line.trimEnd())));
      expect(slotsOf(now, "left")).not.toEqual(slotsOf(text, "left"));
      await screen(page, `voicing-revoiced-${host}`);
      await undo();
      await untilText(page, (it) => fileText(it) === fileText(text));
    });

    test("the next voicing comes with each call, the cursor stays in its slot, and each has its own undo", async () => {
      const text = await voice("close");
      const at = text.findIndex((it) => it.startsWith("right"));
      await goTo(page, at + 1, (text[at] ?? "").indexOf("| ") + 4);
      const texts = [fileText(text)];
      for (let i = 0; i < 2; i++) {
        await run(page, "Plagal: Try the Next Voicing");
        texts.push(fileText(await untilText(page, (it) => !texts.includes(fileText(it)))));
      }
      expect(slotsOf((texts[1] ?? "").split("\n"), "right")[0]).not.toBe(slotsOf(text, "right")[0]);
      await screen(page, `voicing-next-${host}`);
      for (const before of [texts[1], texts[0]]) {
        await undo();
        await untilText(page, (it) => fileText(it) === before);
      }
    });
  },
);
