import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type BareBrowser, browserMissing, pageText, startBrowser } from "./bare-browser.js";
import { heard, onsets, pitchAt, readHeard, recordingContext } from "./listen.js";

const missing = browserMissing();

/** One tone at a time, each half a second long, and as long a silence behind it. */
const chart = `title Single Tones
key C
tempo 60
section A
right | C4 r r  r E4 r r  r |
left  | r  r C3 r r  r G2 r |
section B
right | G4 r r  r C5 r r  r |
left  | r  r E3 r r  r D3 r |
`;
/** By the second in which they sound: counted by hand. */
const written = [60, 48, 64, 43, 67, 52, 72, 50];
/** From the button to the first tone. */
const lead = 0.08;

/** Milliseconds that an onset may lie beside its time, and parts of a half step that a tone may be out of tune. */
const [late, outOfTune] = [5, 0.3];

describe.skipIf(missing !== undefined)("what a page plays", () => {
  let browser: BareBrowser;
  beforeAll(async () => {
    browser = await startBrowser();
  });
  afterAll(() => browser.stop());

  /** What is heard of the page in some seconds after something was done to it and Play was pressed. */
  async function listen(
    seconds: number,
    act: (
      press: (id: string) => Promise<void>,
      choose: (id: string, words: string) => Promise<void>,
    ) => Promise<void>,
    html = pageText(chart),
  ) {
    const { page, errors } = await browser.open(html, {}, recordingContext(seconds));
    await act(
      (id) => page.click(`#${id}`),
      async (id, words) => {
        await page.selectOption(`#${id}`, { label: words });
      },
    );
    await page.click("#play");
    const sound = heard(await page.evaluate(readHeard));
    expect(errors).toEqual([]);
    await page.context().close();
    return sound;
  }

  /** Tones at even distances, in seconds from the first. */
  function expectTones(sound: Float32Array, tones: readonly number[], distance: number, first = 0) {
    const starts = onsets(sound);
    expect(starts).toHaveLength(tones.length);
    tones.forEach((midi, i) => {
      const start = starts[i] as number;
      expect(
        Math.abs(start - lead - first - i * distance) * 1000,
        `tone ${i} starts at ${start}`,
      ).toBeLessThan(late);
      expect(Math.abs((pitchAt(sound, start + 0.15) ?? 0) - midi), `tone ${i}`).toBeLessThan(outOfTune);
    });
  }

  const nothing = async () => {};

  test("is what the chart says, in time and in tune", async () => {
    expectTones(await listen(9, nothing), written, 1);
  });

  test("is as much in time and in tune where no recorded note can be read", async () => {
    const html = pageText(chart).replace(/"piano":\{.*?\}/, '"piano":{"60":"AAAA"}');
    expectTones(await listen(9, nothing, html), written, 1);
  });

  test("is slower by what the buttons say", async () => {
    const sound = await listen(9, async (press) => {
      for (let i = 0; i < 10; i++) await press("slower");
    });
    expectTones(sound, written.slice(0, 5), 2);
  });

  test("is faster by what the buttons say", async () => {
    const sound = await listen(7, async (press) => {
      for (let i = 0; i < 5; i++) await press("faster");
    });
    expectTones(sound, written, 0.8);
  });

  test("goes round in a section, without a gap", async () => {
    const sound = await listen(10, (_press, choose) => choose("loop", "B"));
    expectTones(sound, [67, 52, 72, 50, 67, 52, 72, 50, 67, 52], 1);
  });

  test("is without a hand that was taken away", async () => {
    const sound = await listen(9, (press) => press("part-right"));
    expectTones(sound, [48, 43, 52, 50], 2, 1);
  });

  test("is one hand alone where somebody chose it", async () => {
    const sound = await listen(9, (_press, choose) => choose("alone", "Right hand"));
    expectTones(sound, [60, 64, 67, 72], 2);
  });

  test.each([
    ["F major", 5],
    ["G♭ major", -6],
    ["B major", -1],
  ])("is in %s where that was chosen", async (key, by) => {
    const sound = await listen(9, (_press, choose) => choose("key", key));
    expectTones(
      sound,
      written.map((midi) => midi + by),
      1,
    );
  });
});
