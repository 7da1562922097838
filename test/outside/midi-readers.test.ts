// Two readers of Standard MIDI Files that are not ours and not each other's: npm midi-file 1.2.4 (MIT) and Debian's
// midicsv 1.1 (public domain). What they read is compared note by note with the performance.
import { spawnSync } from "node:child_process";
import { readdirSync, readFileSync } from "node:fs";
import { posix } from "node:path";
import fc from "fast-check";
import { parseMidi } from "midi-file";
import { describe, expect, test } from "vitest";
import { defaultSettings, type Files, openDocument } from "../../server/src/document/document.js";
import { midiFile } from "../../server/src/exports/midi.js";
import { type Performance, perform } from "../../server/src/exports/performance.js";
import { anyChart, usedFiles } from "../support/generate-chart.js";
import { expectedStrokes, type ReadTrack, strokesOf } from "../support/played-keys.js";
import { property } from "../support/property.js";

const version = spawnSync("midicsv", ["-u"], { encoding: "utf8" });
const isThere = version.error === undefined;
if (!isThere) {
  const why = "midicsv isn't installed (Debian: apt-get install midicsv), so it reads nothing here.";
  if (process.env.PLAGAL_NO_SKIP) throw new Error(why);
  console.log(why);
}

/** All that a reader found. */
interface Read {
  readonly division: number | undefined;
  readonly tracks: readonly ReadTrack[];
  /** Of the first track: `tick tempo`, `tick beats/unit`, `tick signs minor`, `tick text`. */
  readonly tempos: readonly string[];
  readonly meters: readonly string[];
  readonly keys: readonly string[];
  readonly markers: readonly string[];
  readonly lyrics: readonly string[];
}

function readByMidiFile(bytes: Uint8Array): Read {
  const { header, tracks } = parseMidi(bytes);
  const found = { tempos: [] as string[], meters: [] as string[], keys: [] as string[] };
  const texts = { markers: [] as string[], lyrics: [] as string[] };
  const words = (text: string): string => Buffer.from(text, "latin1").toString("utf8");
  const read = tracks.map((events): ReadTrack => {
    let tick = 0;
    let name: string | undefined;
    const messages: { tick: number; key: number; on: boolean }[] = [];
    for (const event of events) {
      tick += event.deltaTime;
      if (event.type === "noteOn" || event.type === "noteOff")
        messages.push({ tick, key: event.noteNumber, on: event.type === "noteOn" });
      else if (event.type === "trackName") name = words(event.text);
      else if (event.type === "setTempo") found.tempos.push(`${tick} ${event.microsecondsPerBeat}`);
      else if (event.type === "timeSignature")
        found.meters.push(`${tick} ${event.numerator}/${event.denominator}`);
      else if (event.type === "keySignature")
        found.keys.push(`${tick} ${event.key} ${event.scale === 1 ? "minor" : "major"}`);
      else if (event.type === "marker") texts.markers.push(`${tick} ${words(event.text)}`);
      else if (event.type === "lyrics") texts.lyrics.push(`${tick} ${words(event.text)}`);
    }
    return { name, strokes: strokesOf(messages) };
  });
  return { division: header.ticksPerBeat, tracks: read, ...found, ...texts };
}

/** Its texts are ASCII with octal escapes for all else. */
function unescaped(text: string): string {
  const bytes = text
    .slice(1, -1)
    .replace(/""/g, '"')
    .replace(/\\(\\|[0-7]{3})/g, (_, it: string) =>
      it === "\\" ? it : String.fromCharCode(Number.parseInt(it, 8)),
    );
  return Buffer.from(bytes, "latin1").toString("utf8");
}

function readByMidicsv(bytes: Uint8Array): Read {
  const { stdout, stderr, status } = spawnSync("midicsv", [], { input: bytes, maxBuffer: 1 << 28 });
  if (status !== 0) throw new Error(`midicsv: ${stderr.toString()}`);
  let division: number | undefined;
  const found = { tempos: [] as string[], meters: [] as string[], keys: [] as string[] };
  const texts = { markers: [] as string[], lyrics: [] as string[] };
  const tracks: { name: string | undefined; messages: { tick: number; key: number; on: boolean }[] }[] = [];
  for (const line of stdout.toString("latin1").split("\n")) {
    const [track = "", at = "", kind = "", ...rest] = line.split(", ");
    const here = tracks[Number(track) - 1];
    const text = unescaped(rest.join(", "));
    const numbers = rest.map(Number);
    if (kind === "Header") division = numbers[2];
    else if (kind === "Start_track") tracks.push({ name: undefined, messages: [] });
    else if (here === undefined) continue;
    else if (kind === "Title_t") here.name = text;
    else if (kind === "Note_on_c" || kind === "Note_off_c")
      here.messages.push({
        tick: Number(at),
        key: numbers[1] as number,
        on: kind === "Note_on_c" && numbers[2] !== 0,
      });
    else if (kind === "Tempo") found.tempos.push(`${at} ${numbers[0]}`);
    else if (kind === "Time_signature")
      found.meters.push(`${at} ${numbers[0]}/${2 ** (numbers[1] as number)}`);
    else if (kind === "Key_signature") found.keys.push(`${at} ${numbers[0]} ${rest[1]?.replaceAll('"', "")}`);
    else if (kind === "Marker_t") texts.markers.push(`${at} ${text}`);
    else if (kind === "Lyric_t") texts.lyrics.push(`${at} ${text}`);
  }
  const read = tracks.map(({ name, messages }) => ({ name, strokes: strokesOf(messages) }));
  return { division, tracks: read, ...found, ...texts };
}

const readers: ReadonlyArray<readonly [name: string, isThere: boolean, read: (bytes: Uint8Array) => Read]> = [
  ["midi-file", true, readByMidiFile],
  ["midicsv", isThere, readByMidicsv],
];

/** Holds what a reader found against the performance. */
function judge(performance: Performance, read: Read): void {
  const { bars, words, parts } = performance;
  const tick = ({ n, d }: { readonly n: number; readonly d: number }): number => Math.round((n * 1920) / d);
  expect(read.division).toBe(480);
  expect(read.tracks.slice(1).map(({ strokes }) => strokes)).toEqual(expectedStrokes(performance));
  expect(read.tracks.length).toBe(1 + parts.length);
  const names = bars.flatMap(({ at, enters, section }) =>
    enters && section.section.name !== "" ? [`${tick(at)} ${section.section.name}`] : [],
  );
  expect(read.markers).toEqual(names);
  expect(read.lyrics).toEqual(words.map(({ at, text }) => `${tick(at)} ${text}`));
  const meters = bars.map(({ at, meter }) => [tick(at), `${meter.beats}/${meter.unit}`] as const);
  const changes = meters.filter(([, meter], i) => meter !== meters[i - 1]?.[1]);
  expect(read.meters).toEqual(changes.map(([at, meter], i) => `${i === 0 ? 0 : at} ${meter}`));
}

const folder = new URL("../charts/", import.meta.url);
const charts = Object.fromEntries(
  readdirSync(folder)
    .filter((name) => name.endsWith(".plagal"))
    .map((name) => [name, readFileSync(new URL(name, folder), "utf8")]),
);
const files: Files = {
  find: (from, path) => {
    const wanted = posix.join(posix.dirname(from), path);
    const text = charts[wanted];
    return text === undefined ? { kind: "missing" } : { kind: "text", path: wanted, text };
  },
};

describe.each(readers)("%s", (_name, isReady, read) => {
  test.skipIf(!isReady).each(Object.keys(charts))("reads %s as it is performed", (name) => {
    const { chart } = openDocument(name, charts[name] as string, files, defaultSettings);
    const performance = perform(chart);
    const found = read(midiFile(performance));
    judge(performance, found);
    expect(found.tracks[0]?.name).toBe(chart.header.title);
    expect(performance.parts.flatMap(({ notes }) => notes).length).toBeGreaterThan(10);
  });

  test.skipIf(!isReady)("reads tempo and key of the sample that is played in two keys", () => {
    const text = charts["sunday-vamp.plagal"] as string;
    const found = read(midiFile(perform(openDocument("a.plagal", text).chart)));
    // Ab, then A a half step up; 96 quarters a minute.
    expect(found.keys).toEqual(["0 -4 major", "21120 3 major"]);
    expect(found.tempos).toEqual(["0 625000"]);
  });
});

property("midi-file reads any chart as it is performed", anyChart(), 300, (text) => {
  const performance = perform(openDocument("a.plagal", text, usedFiles).chart);
  judge(performance, readByMidiFile(midiFile(performance)));
});

if (isThere) {
  property("midicsv reads any chart as it is performed", anyChart(), 300, (text) => {
    const performance = perform(openDocument("a.plagal", text, usedFiles).chart);
    judge(performance, readByMidicsv(midiFile(performance)));
  });
}

test("the generated charts sound: few of them have no note", () => {
  const silent = fc
    .sample(anyChart(), { numRuns: 100, seed: 1 })
    .filter((text) => perform(openDocument("a.plagal", text, usedFiles).chart).parts.length === 0);
  expect(silent.length).toBeLessThan(20);
});
