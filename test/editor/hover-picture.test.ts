import type { Locator, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, describe, expect, test } from "vitest";
import { pictureColours } from "../../server/src/exports/picture-colours.js";
import { placeOf } from "./charts.js";
import { editorMissing } from "./editor-ready.js";
import { type EditorHost, type OpenedEditor, openEditor, packed, tellFailure } from "./real-editor.js";
import {
  eventually,
  goTo,
  hoverAtCursor,
  listRows,
  problemsShown,
  run,
  screen,
  wordsOf,
} from "./workbench.js";

/** Its wavy line shows that the server has read it. */
const chart = `title   Lamp in the Window
key     F minor
time    4/4
tempo   72

section Verse
chords  | 1m7      | 4m7        | 7:7     | 3maj7   |
lead    | 5 -  3 - | 4 -  3 -   | 2 -  1 - | 1 - - - |
right   | b7+b3+5  | b3+5+b7 =  | b7+3+5  | 5+7+3   |
left    | 1+>b3    | 1+b7 -     | 1       | 1+5     |

section Far
chords  | 1m         |
right   | >>b3+5     |
left    | <1         |
chords  | zz         |
`;
const onChord = placeOf(chart, /^chords/, "1m7");
const onTone = placeOf(chart, /^right/, "b3+5+b7", 4);
const onHold = placeOf(chart, /^left/, "-");
const onWide = placeOf(chart, /^left .*<1/, "<1");

/** The editor's themes, and whose colours a picture takes in each. */
const themes = [
  ["Dark Modern", pictureColours.dark, pictureColours.light],
  ["Light Modern", pictureColours.light, pictureColours.dark],
  ["Dark High Contrast", pictureColours["high contrast"], pictureColours.light],
  ["Light High Contrast", pictureColours.print, pictureColours.dark],
] as const;

interface Picture {
  readonly words: string;
  readonly svg: string;
  /** As it is shown, and as it was drawn, in pixels. */
  readonly width: number;
  readonly height: number;
  readonly ownWidth: number;
  readonly ownHeight: number;
}

/** The picture of a hover once the browser has drawn it. */
async function pictureIn(hover: Locator): Promise<Picture> {
  const image = hover.locator("img");
  await image.waitFor();
  // The page's own types are not known here.
  interface Image {
    readonly alt: string;
    readonly src: string;
    readonly complete: boolean;
    readonly width: number;
    readonly height: number;
    readonly naturalWidth: number;
    readonly naturalHeight: number;
  }
  const read = () =>
    image.evaluate((it) => {
      const { alt, src, complete, width, height, naturalWidth, naturalHeight } = it as unknown as Image;
      return { alt, src, complete, width, height, naturalWidth, naturalHeight };
    });
  // A picture that can't be drawn is complete too, without any width.
  await eventually(async () => (await read()).complete).toBe(true);
  const { alt, src, width, height, naturalWidth, naturalHeight } = await read();
  const data = /^data:image\/svg\+xml;base64,(.*)$/.exec(src)?.[1] ?? "";
  const svg = Buffer.from(data, "base64").toString("utf8");
  return { words: alt, svg, width, height, ownWidth: naturalWidth, ownHeight: naturalHeight };
}

/** The whole picture is seen without scrolling. */
async function isInSight(hover: Locator): Promise<void> {
  const frame = hover.locator("xpath=ancestor::*[contains(@class,'monaco-hover')][1]");
  const [around, inside] = [await frame.boundingBox(), await hover.locator("img").boundingBox()];
  if (around === null || inside === null) throw new Error("nothing is shown");
  expect(inside.x).toBeGreaterThanOrEqual(around.x);
  expect(inside.y).toBeGreaterThanOrEqual(around.y);
  expect(inside.x + inside.width).toBeLessThanOrEqual(around.x + around.width);
  expect(inside.y + inside.height).toBeLessThanOrEqual(around.y + around.height);
}

async function chooseTheme(page: Page, name: string): Promise<void> {
  await run(page, "Preferences: Color Theme");
  const input = page.locator(".quick-input-widget input");
  await input.waitFor();
  await input.fill(name);
  await listRows(page)
    .filter({ has: page.getByText(name, { exact: true }) })
    .first()
    .click();
  await input.waitFor({ state: "hidden" });
}

const missing = editorMissing();
const hosts: readonly EditorHost[] = ["desktop", "web"];

describe.skipIf(missing !== undefined).each(hosts)(
  "the picture in a hover, in the real editor, %s",
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
    });
    const hoverOn = async ({ line, column }: { line: number; column: number }): Promise<Locator> => {
      await goTo(page, line, column);
      return hoverAtCursor(page);
    };

    test("is drawn below the words on a chord, a tone and what is held", async () => {
      const hover = await hoverOn(onChord);
      const picture = await pictureIn(hover);
      expect(picture.words).toMatch(/^Fm7\. Left hand: F2 \(1, finger 5\), A♭3 .* Right hand: E♭4 /);
      expect([picture.width, picture.height]).toEqual([picture.ownWidth, picture.ownHeight]);
      expect(picture.width).toBeGreaterThan(200);
      expect(await wordsOf(hover)).toContain("Fm7 (1m7), the 1");
      await isInSight(hover);
      const above = await hover.getByText("Left hand: F2 A♭3. Right hand: E♭4 A♭4 C5.").boundingBox();
      const below = await hover.locator("img").boundingBox();
      expect(below?.y).toBeGreaterThan((above?.y ?? Number.NaN) + (above?.height ?? 0) - 1);
      await page.keyboard.press("Escape");
      const onOneTone = await pictureIn(await hoverOn(onTone));
      expect(onOneTone.words).toMatch(/^B♭m7\. .* Right hand: D♭4 \(♭3, finger 1\), F4 /);
      expect(onOneTone.height).toBe(picture.height);
      await page.keyboard.press("Escape");
      const held = await pictureIn(await hoverOn(onHold));
      expect(held.words).toMatch(/Left hand: B♭2 \(1, finger 5, held over\)/);
      expect(held.svg).toContain("stroke-dasharray");
    });

    test("fits into the hover where the hands are far apart", async () => {
      const hover = await hoverOn(onWide);
      const picture = await pictureIn(hover);
      await screen(page, `hover-picture-wide-${host}`);
      expect(picture.ownWidth).toBeGreaterThan(500);
      await isInSight(hover);
    });

    test.each(themes)(
      "is drawn for %s, also where that was chosen while the editor ran",
      async (theme, own, other) => {
        await chooseTheme(page, theme);
        let svg = "";
        await expect
          .poll(
            async () => {
              await page.keyboard.press("Escape");
              ({ svg } = await pictureIn(await hoverOn(onChord)));
              return Object.values(own).filter((colour) => !svg.includes(colour));
            },
            { timeout: 20_000 },
          )
          .toEqual([]);
        const foreign = Object.values(other).filter(
          (colour) => !(Object.values(own) as string[]).includes(colour),
        );
        expect(foreign.length).toBeGreaterThan(0);
        for (const colour of foreign) expect(svg).not.toContain(colour);
        await screen(page, `hover-picture-${theme.toLowerCase().replaceAll(" ", "-")}-${host}`);
      },
    );
  },
);
