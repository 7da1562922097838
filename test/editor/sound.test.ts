import type { Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, describe, expect, test } from "vitest";
import { heard, onsets, pitchAt, readHeard, recordingContext } from "../page/listen.js";
import { editorMissing } from "./editor-ready.js";
import { type EditorHost, type OpenedEditor, openEditor, packed, tellFailure } from "./real-editor.js";
import { eventually, focusText, pageFrame, run } from "./workbench.js";

const missing = editorMissing();
const hosts: readonly EditorHost[] = ["desktop", "web"];

/** One tone at a time, each a second long, and as long a silence behind it. */
const chart = `title Single Tones
key C
tempo 60

section Alone
right | C4 r E4 r | r r G4 r |
left  | r r r r | C3 r r r |
`;
/** Seconds from the first tone on, and MIDI numbers: counted by hand. */
const written = [
  [0, 60],
  [2, 64],
  [4, 48],
  [6, 67],
] as const;
/** Milliseconds that an onset may lie beside its time, and parts of a half step that a tone may be out of tune. */
const [late, outOfTune] = [5, 0.3];

describe.skipIf(missing !== undefined).each(hosts)(
  "the sound of the page, in the real editor, %s",
  (host) => {
    let editor: OpenedEditor;
    let page: Page;

    beforeAll(async () => {
      editor = await openEditor(host, packed(), { "tones.plagal": chart });
      page = editor.page;
      await page.addInitScript({ content: recordingContext(10) });
      await editor.open("tones.plagal");
    }, 180_000);
    afterAll(() => editor?.end());
    afterEach(async ({ task }) => {
      await tellFailure(editor, `${host} ${task.name}`, task.result?.state);
    });

    test("is what the chart says, in time and in tune, and the text is marked as it goes", async () => {
      await focusText(page);
      await run(page, "Plagal: Play the Form");
      const frame = await pageFrame(page);
      await eventually(() => frame.evaluate("document.querySelector('#play').textContent")).toBe("Pause");
      await eventually(() => page.locator(".monaco-editor [class*='ced-']").count()).toBeGreaterThan(0);
      await eventually(() => frame.evaluate("document.querySelector('.now')?.id")).toBe("b0-1");
      const sound = heard(await frame.evaluate(readHeard));
      const starts = onsets(sound);
      expect(starts).toHaveLength(written.length);
      const [first = 0] = starts;
      written.forEach(([second, midi], i) => {
        const start = starts[i] as number;
        expect(Math.abs(start - first - second) * 1000).toBeLessThan(late);
        expect(Math.abs((pitchAt(sound, start + 0.1) ?? 0) - midi)).toBeLessThan(outOfTune);
      });
    });
  },
);
