import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { build } from "esbuild";
import type { PageView } from "../../server/src/exports/page-data.js";
import { root } from "../support/root.js";
import type { BareBrowser, OpenPage } from "./bare-browser.js";
import { heard, sampleRate } from "./listen.js";

/** The program of the sound alone, without a page around it. */
export async function program(): Promise<string> {
  const { outputFiles } = await build({
    stdin: {
      contents: `export * from "./player.js"; export * from "./song.js"; export * from "./loops.js";`,
      resolveDir: join(root, "server/src/page"),
      loader: "ts",
    },
    bundle: true,
    format: "iife",
    globalName: "engine",
    platform: "browser",
    target: "es2022",
    write: false,
  });
  return (outputFiles[0] as { readonly text: string }).text;
}

/** The recorded notes as a page carries them. */
const piano = Object.fromEntries(
  readdirSync(join(root, "server/piano"))
    .filter((name) => name.endsWith(".mp3"))
    .map((name) => [
      name.replace(".mp3", ""),
      readFileSync(join(root, "server/piano", name)).toString("base64"),
    ]),
);

/**
 * Drives the player on a clock that stands still while the player works: the browser renders what the player's own
 * timer has given out, up to the next look of that timer.
 */
const rig = `
  window.rendered = async (seconds, steps, isHidden, make, acts) => {
    const context = new OfflineAudioContext({
      numberOfChannels: 1, length: Math.ceil(seconds * ${sampleRate}), sampleRate: ${sampleRate} });
    let tick;
    window.setInterval = (look) => { tick = look; return 1; };
    window.clearInterval = () => { tick = undefined; };
    if (isHidden) Object.defineProperty(document, "visibilityState", { get: () => "hidden" });
    const told = [];
    const tell = Object.fromEntries(
      ["ended", "failed", "locked", "gone"].map((name) => [name, () => told.push(name)]));
    const player = make(context, tell);
    const waiting = [...acts];
    const act = async () => {
      while (waiting.length > 0 && waiting[0][0] <= context.currentTime + 1e-3) {
        const said = await waiting.shift()[1](player);
        if (said !== undefined) told.push(said);
      }
    };
    await act();
    let step = 0;
    const next = (time) => {
      if (time >= seconds) return;
      context.suspend(time).then(async () => {
        await act();
        tick?.();
        next(Math.max(time + 0.01, time + steps[step++ % steps.length]));
        context.resume();
      });
    };
    next(0);
    window.sound = (await context.startRendering()).getChannelData(0);
    return told;
  };
  window.soundPart = (from, to) => {
    const bytes = new Uint8Array(window.sound.slice(from, to).buffer);
    let text = "";
    for (let i = 0; i < bytes.length; i += 8192) text += String.fromCharCode(...bytes.subarray(i, i + 8192));
    return btoa(text);
  };`;

export interface Engine {
  readonly open: OpenPage;
  /**
   * What is heard of the player in so many seconds, and what it told or an act gave, in order. The views are there by
   * their index as `songs`, the first one is played; acts are done to the `player` at times of its clock, each a
   * JavaScript expression.
   */
  readonly render: (
    seconds: number,
    acts: readonly (readonly [at: number, act: string])[],
    how?: {
      /** Seconds between the looks of the player's timer. */
      readonly steps?: readonly number[];
      readonly isHidden?: boolean;
      /** A JavaScript expression: how the recorded notes come. */
      readonly recordings?: string;
    },
  ) => Promise<{ readonly sound: Float32Array; readonly told: readonly unknown[] }>;
}

/** A blank page with the sound of a page in it. */
export async function startEngine(browser: BareBrowser, views: readonly PageView[]): Promise<Engine> {
  const open = await browser.open("<!DOCTYPE html><title>Sound</title>");
  await open.page.addScriptTag({ content: await program() });
  await open.page.addScriptTag({ content: rig });
  await open.page.evaluate(
    `window.songs = ${JSON.stringify(views)}.map(engine.songOf); window.piano = ${JSON.stringify(piano)};`,
  );
  return {
    open,
    async render(seconds, acts, { steps = [0.05], isHidden = false, recordings = "piano" } = {}) {
      const list = acts.map(([at, act]) => `[${at}, (player) => ${act}]`).join(", ");
      const told = await open.page.evaluate<unknown[]>(
        `rendered(${seconds}, ${JSON.stringify(steps)}, ${isHidden},
          (context, tell) => engine.createPlayer(songs[0], ${recordings}, tell, context), [${list}])`,
      );
      const parts: Float32Array[] = [];
      const [length, part] = [Math.ceil(seconds * sampleRate), 30 * sampleRate];
      for (let at = 0; at < length; at += part)
        parts.push(heard(await open.page.evaluate<string>(`soundPart(${at}, ${at + part})`)));
      const sound = new Float32Array(length);
      parts.forEach((it, i) => {
        sound.set(it, i * part);
      });
      return { sound, told };
    },
  };
}
