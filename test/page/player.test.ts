import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { songIn } from "../support/song-in.js";
import { type BareBrowser, browserMissing, startBrowser } from "./bare-browser.js";
import { type Engine, program, startEngine } from "./engine.js";
import { cyclesAt, onsets, pitchAt, sampleRate } from "./listen.js";

const missing = browserMissing();

/** One tone at a time, with silence behind most of them. */
const text = `key C
tempo 120
section Verse
chords | C | G7 |
lead   | r C5 r E5 | r G4 - r |
left   | r | r |
section Chorus
chords | C |
lead   | E5 r C5 r |
left   | r |
`;
const songs = [
  songIn(text),
  songIn(text, 2),
  songIn(text.replace("E5 r C5 r", "D5 r C5 r")),
  songIn("key C\ntempo 120\nsection Verse\nlead | r C5 r r |\n"),
  songIn("key C\ntempo 120\nlead (r G4) | C5 r r r | r |\n"),
  songIn("key C\ntime 6/8\ntempo 120\nlead | C5 r | r |\n"),
];
/** From the button to the first sound. */
const lead = 0.08;

const written = [72, 76, 67, 76, 72];
/** In seconds from the first sound. */
const times = [0.5, 1.5, 2.5, 4, 5];

describe.skipIf(missing !== undefined)("the sound of a page", () => {
  let browser: BareBrowser;
  let engine: Engine;
  beforeAll(async () => {
    browser = await startBrowser();
    engine = await startEngine(
      browser,
      songs.map(({ view }) => view),
    );
  });
  afterAll(async () => {
    expect(engine.open.errors).toEqual([]);
    await browser.stop();
  });

  /** Onsets lie within 5 ms of these times, counted from the button and what it takes to sound. */
  function expectOnsets(sound: Float32Array, wanted: readonly number[]): readonly number[] {
    const heard = onsets(sound);
    expect(heard.map((time) => (time - lead).toFixed(2))).toEqual(wanted.map((time) => time.toFixed(2)));
    heard.forEach((time, i) => {
      expect(Math.abs(time - lead - (wanted[i] as number))).toBeLessThan(0.005);
    });
    return heard;
  }
  function expectPitches(sound: Float32Array, at: readonly number[], midi: readonly number[]): void {
    at.forEach((time, i) => {
      expect(Math.abs((pitchAt(sound, time + 0.1) ?? 0) - (midi[i] as number)), `tone ${i}`).toBeLessThan(
        0.3,
      );
    });
  }
  /** The loudest from one time to another. */
  const peak = (sound: Float32Array, from: number, to: number): number =>
    sound
      .subarray(Math.round(from * sampleRate), Math.round(to * sampleRate))
      .reduce((most, it) => Math.max(most, Math.abs(it)), 0);
  const play = [0, "player.play()"] as const;

  describe("comes from recorded notes", () => {
    test.each([
      ["that the page carries", "piano"],
      [
        "that it fetches when it first plays",
        `async () => new Map(await Promise.all(Object.entries(piano).map(async ([midi, text]) =>
          [Number(midi), await (await fetch("data:audio/mpeg;base64," + text)).arrayBuffer()])))`,
      ],
      ["of which some can't be read", `({ ...piano, 66: "AAAA", 78: "no base64 at all" })`],
      ["that can't be had: then a made tone plays", `() => Promise.reject(new Error("none"))`],
      ["whose coming fails at once: then too", `() => { throw new Error("none"); }`],
      ["of which there are none: then too", `async () => new Map()`],
    ])("%s", async (_name, recordings) => {
      const { sound, told } = await engine.render(7, [play], { recordings });
      expect(told).toEqual(["ended"]);
      expectPitches(sound, expectOnsets(sound, times), written);
    });
  });

  describe("with a count", () => {
    test("is a bar of clicks before it, the first one higher and louder", async () => {
      const { sound } = await engine.render(4, [[0, "player.setCountIn(true)"], play]);
      const heard = expectOnsets(sound, [0, 0.5, 1, 1.5, 2.5, 3.5]);
      const cycles = heard.slice(0, 4).map((time) => Math.round(cyclesAt(sound, time) / 100));
      expect(cycles).toEqual([20, 12, 12, 12]);
      const loud = heard.slice(0, 4).map((time) => peak(sound, time, time + 0.1));
      for (const other of loud.slice(1)) expect(loud[0]).toBeGreaterThan(other * 1.5);
      expectPitches(sound, heard.slice(4), written);
    });

    test("before a pickup goes on up to it", async () => {
      const { sound } = await engine.render(6, [
        [0, "player.setSong(songs[4])"],
        [0, "player.setCountIn(true)"],
        [0, "player.seek(songs[4].timing.starts[0])"],
        play,
      ]);
      const heard = expectOnsets(sound, [0, 0.5, 1, 1.5, 2, 2.5, 3, 3.5, 3.75]);
      expect(heard.slice(0, 8).map((time) => Math.round(cyclesAt(sound, time) / 100))).toEqual([
        20, 12, 12, 12, 20, 12, 12, 12,
      ]);
      expectPitches(sound, [3.75 + lead, 4 + lead], [67, 72]);
    });

    test("counts dotted beats in a compound meter, and slower where it is played slower", async () => {
      const { sound } = await engine.render(3, [
        [0, "player.setSong(songs[5])"],
        [0, "player.setSpeed(0.5)"],
        [0, "player.setCountIn(true)"],
        play,
      ]);
      const heard = expectOnsets(sound, [0, 1, 2]);
      expect(heard.slice(0, 2).map((time) => Math.round(cyclesAt(sound, time) / 100))).toEqual([20, 12]);
      expectPitches(sound, heard.slice(2), [72]);
    });

    test("that is taken away while it counts begins at once", async () => {
      const { sound } = await engine.render(3, [
        [0, "player.setCountIn(true)"],
        play,
        [0.7, "player.setCountIn(false)"],
      ]);
      const heard = onsets(sound);
      expect(heard).toHaveLength(4);
      expect(heard[2]).toBeCloseTo(0.7 + lead + 0.5, 1);
      expectPitches(sound, heard.slice(2), written);
    });
  });

  describe("with a metronome", () => {
    test("clicks on each beat from when it is switched on to when it is switched off", async () => {
      const { sound } = await engine.render(5, [
        [0, "player.setSounding(new Set())"],
        play,
        [0.8, "player.setMetronome(true)"],
        [2.8, "player.setMetronome(false)"],
      ]);
      const heard = expectOnsets(sound, [1, 1.5, 2, 2.5]);
      expect(heard.map((time) => Math.round(cyclesAt(sound, time) / 100))).toEqual([12, 12, 20, 12]);
    });

    test("clicks in a loop as it goes round", async () => {
      const { sound } = await engine.render(5.05, [
        [0, "player.setSounding(new Set())"],
        [0, "player.setMetronome(true)"],
        [0, "player.setLoop({ from: 4, to: 6 })"],
        play,
      ]);
      const heard = expectOnsets(sound, [0, 0.5, 1, 1.5, 2, 2.5, 3, 3.5, 4, 4.5]);
      expect(heard.map((time) => Math.round(cyclesAt(sound, time) / 100))).toEqual([
        20, 12, 12, 12, 20, 12, 12, 12, 20, 12,
      ]);
    });
  });

  describe("for a singer", () => {
    test("is the chord and then the first tone, and says their names", async () => {
      const { sound, told } = await engine.render(5, [[0, `player.giveTone({ from: 0, to: 4 })`]]);
      expect(told).toEqual(["C5, over C"]);
      const heard = expectOnsets(sound, [0, 1.6]);
      expectPitches(sound, heard.slice(1), [72]);
      expect(peak(sound, 4.5, 5)).toBeLessThan(0.001);
    });

    test("comes instead of what plays, in the key that is played", async () => {
      const { sound, told } = await engine.render(6, [
        [0, "player.setSong(songs[1])"],
        play,
        [1.2, `player.giveTone({ from: 4, to: 6 })`],
        [4.9, "player.isPlaying() + ' ' + player.position().toFixed(2)"],
      ]);
      expect(told).toEqual(["F♯5, after A7", "false 1.12"]);
      // Its tone dies away to where the ear begins to hear beats in it.
      const heard = onsets(sound.subarray(0, 4 * sampleRate));
      expect(heard).toHaveLength(3);
      expectPitches(sound, heard.slice(2), [78]);
    });

    test("is nothing where nobody has a tone", async () => {
      const { sound, told } = await engine.render(1, [[0, "player.giveTone({ from: 5.2, to: 6 })"]]);
      expect(told).toEqual([]);
      expect(peak(sound, 0, 1)).toBe(0);
    });

    test("ends when it plays again", async () => {
      const { sound } = await engine.render(3, [
        [0, `player.giveTone({ from: 0, to: 4 })`],
        [0.5, "player.play()"],
      ]);
      expect(peak(sound, 0.8, 1.05)).toBeLessThan(0.001);
      expectPitches(sound, onsets(sound).slice(1), written.slice(0, 2));
    });
  });

  describe("of a song that changes while it plays", () => {
    test("is the same to the ear where the change is elsewhere", async () => {
      const [plain, changed] = [
        await engine.render(3.9, [play]),
        await engine.render(3.9, [
          play,
          ...[0.03, 0.3, 0.61, 0.79, 1.21, 1.58, 2.2, 2.7, 3.1].map(
            (at, i) => [at, `player.setSong(songs[${i % 2 === 0 ? 2 : 0}])`] as const,
          ),
        ]),
      ];
      expect(peak(plain.sound, 0, 3.9)).toBeGreaterThan(0.05);
      const difference = plain.sound.map((it, i) => it - (changed.sound[i] as number));
      expect(peak(difference, 0, 3.9)).toBeLessThan(1e-4);
    });

    test("goes over to another key within a held tone", async () => {
      const { sound } = await engine.render(5, [play, [2.95, "player.setSong(songs[1])"]]);
      expectPitches(sound, [2.5 + lead], [67]);
      // Held over into the other key; after its end nothing of either sounds on.
      expect(pitchAt(sound, 3.15)).toBeCloseTo(69, 0);
      expect(peak(sound, 3.75, 4.05)).toBeLessThan(0.0015);
      expectPitches(sound, [4 + lead], [78]);
    });

    test("goes over to another key on the next tone", async () => {
      const { sound } = await engine.render(5, [play, [2.5, "player.setSong(songs[1])"]]);
      const heard = expectOnsets(sound, [0.5, 1.5, 2.5, 4]);
      expectPitches(sound, heard, [72, 76, 69, 78]);
    });

    test("stops kindly where its bar is gone", async () => {
      const { sound, told } = await engine.render(4, [
        play,
        [2.8, "player.setSong(songs[3])"],
        [3.5, "player.isPlaying() + ' ' + player.position()"],
      ]);
      expect(told).toEqual(["gone", "false 0"]);
      expect(peak(sound, 2.7, 2.8)).toBeGreaterThan(0.01);
      expect(peak(sound, 3.1, 4)).toBeLessThan(0.001);
    });

    test("takes its loop along, and ends it with its bars", async () => {
      const { told } = await engine.render(5, [
        [0, "player.setLoop({ from: 4, to: 6 })"],
        play,
        [0.5, "player.setSong(songs[1])"],
        [3.3, "player.position().toFixed(2)"],
        [3.4, "player.setSong(songs[3])"],
      ]);
      expect(told).toEqual(["5.22", "gone"]);
    });
  });

  test("of one section ends with it, and goes back to where it began", async () => {
    const { sound, told } = await engine.render(5, [
      [0, "player.seek(2)"],
      [0, "player.play(4)"],
      [0.5, "player.setSong(songs[1])"],
      [3, "player.position()"],
    ]);
    expect(told).toEqual(["ended", 2]);
    expectPitches(sound, expectOnsets(sound, [0.5]), [69]);
  });

  test("at another speed goes on from the same place, without a gap", async () => {
    const { sound } = await engine.render(9, [play, [2.8, "player.setSpeed(0.5)"]]);
    // Half a second of music after the change takes a second.
    const heard = onsets(sound);
    expect(heard).toHaveLength(5);
    expect(heard[2]).toBeCloseTo(2.5 + lead, 2);
    const change = 2.8 + 0.05;
    expect(Math.abs((heard[3] as number) - (change + (4 + lead - change) * 2))).toBeLessThan(0.01);
    expect(Math.abs((heard[4] as number) - (heard[3] as number) - 2)).toBeLessThan(0.005);
    // The tone that sounded lasts as long as it does at that speed.
    const end = change + (3.5 + lead - change) * 2;
    expect(peak(sound, end - 0.1, end)).toBeGreaterThan(0.004);
    expect(peak(sound, end + 0.2, end + 0.4)).toBeLessThan(0.001);
  });

  test("says that none comes yet where the browser finds no way out for it, and plays once it does", async () => {
    const page = await browser.open(
      `<!DOCTYPE html><button id="play">Play</button><script>${await program()}</script><script>
        window.told = [];
        const resume = AudioContext.prototype.resume;
        // As a browser without a sound device: it never says no.
        const found = new Promise((resolve) => { window.plugIn = resolve; });
        Object.defineProperty(AudioContext.prototype, "state", { get: () => "suspended" });
        AudioContext.prototype.resume = async function () { await found; await resume.call(this); };
        const song = engine.songOf(${JSON.stringify(songs[0]?.view).replaceAll("<", "\\u003c")});
        const names = ["ended", "failed", "locked", "waits"];
        const tell = Object.fromEntries(names.map((name) => [name, () => told.push(name)]));
        const player = engine.createPlayer(song, async () => new Map(), tell);
        document.querySelector("#play").addEventListener("click", () => player.play());
      </script>`,
    );
    await page.page.click("#play");
    await expect.poll(() => page.page.evaluate("told")).toEqual(["waits"]);
    expect(await page.page.evaluate("player.position()")).toBe(0);
    await page.page.evaluate("plugIn()");
    await expect.poll(() => page.page.evaluate("player.position() > 0.2")).toBe(true);
    expect(await page.page.evaluate("told")).toEqual(["waits"]);
    expect(page.errors).toEqual([]);
    await page.page.context().close();
  });

  test("waits for a press inside the page, and says so", async () => {
    const page = await browser.open(
      `<!DOCTYPE html><title>Sound</title><button id="play">Play</button><script>${await program()}</script><script>
        window.told = [];
        const song = engine.songOf(${JSON.stringify(songs[0]?.view).replaceAll("<", "\\u003c")});
        const tell = { ended() {}, failed: () => told.push("failed"), locked: () => told.push("locked") };
        const player = engine.createPlayer(song, async () => new Map(), tell);
        document.querySelector("#play").addEventListener("click", () => player.play());
        // As the editor asks for it, without anybody's hand.
        player.play().then(() => { document.title = told + " " + player.isPlaying(); });
      </script>`,
    );
    // Nothing is run in the page until then: that would count as a press.
    await new Promise((resolve) => setTimeout(resolve, 2000));
    expect(await page.page.title()).toBe("locked false");
    await page.page.click("#play");
    await expect.poll(() => page.page.evaluate("player.isPlaying() && player.position() > 0.2")).toBe(true);
    expect(await page.page.evaluate("told")).toEqual(["locked"]);
    expect(page.errors).toEqual([]);
    await page.page.context().close();
  });
});
