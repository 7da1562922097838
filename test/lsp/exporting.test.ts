import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { openDocument } from "../../server/src/document/document.js";
import { exporters } from "../../server/src/exports/exporters.js";
import { sheets } from "../../server/src/exports/sheets.js";
import type { ExportAnswer, ExportParams } from "../../server/src/lsp/protocol.js";
import { base64 } from "../../server/src/text/base64.js";
import { encodeUtf8 } from "../../server/src/text/utf8.js";
import type { LspClient } from "../support/lsp-client.js";
import { type World, worlds } from "../support/lsp-worlds.js";

const chart = `title Ferry at Dusk
key Eb
tempo 80

use "bits.plagal"

section Verse
chords  | 1maj7 | 6m7    |
right   | 3+5+7 | b3+5+1 |
left    | 1     | 1      |

form Verse Walk-in
`;
const bits = "key Eb\n\nsection Walk-in\nchords | 2m7 5:7 |\nleft | 1 1 |\n";

describe.each(worlds)("%s", (_, makeWorld) => {
  let world: World;
  let client: LspClient;
  beforeEach(async () => {
    world = makeWorld({ "song.plagal": chart, "bits.plagal": bits });
    client = await world.start();
    client.open(world.uri("song.plagal"), chart, 1);
  });
  afterEach(async () => {
    await client.stop();
    world.leave();
  });
  const ask = (params: Omit<ExportParams, "textDocument">): Promise<ExportAnswer> =>
    client.request("plagal/export", { textDocument: { uri: world.uri("song.plagal") }, ...params });
  const read = (text: string) =>
    openDocument("song.plagal", text, {
      find: () => ({ kind: "text", path: "bits.plagal", text: bits }),
    });

  test("makes each kind of file, the same as the command does", async () => {
    const { chart: whole } = read(chart);
    expect(await ask({ kind: "midi" })).toEqual({
      name: "song.mid",
      bytes: base64(exporters.midi(whole).bytes),
      notes: [],
    });
    expect((await ask({ kind: "musicxml" })).bytes).toBe(base64(exporters.musicxml(whole).bytes));
    expect((await ask({ kind: "pdf" })).bytes).toBe(base64(sheets.pdf(whole)));
    expect((await ask({ kind: "svg" })).bytes).toBe(base64(encodeUtf8(sheets.svg(whole) ?? "")));
    const page = await ask({ kind: "page" });
    expect(page.name).toBe("song.html");
    expect(atob(page.bytes ?? "")).toMatch(/^<!doctype html>/i);
  });

  test("makes it in another key, with the key in its name", async () => {
    const answer = await ask({ kind: "midi", key: "F#" });
    const moved = read(chart).text.replace("key Eb", "key F# (original Eb)");
    expect(answer.name).toBe("song-F-sharp.mid");
    expect(answer.bytes).toBe(base64(exporters.midi(read(moved).chart).bytes));
  });

  test("a picture is of the section at the cursor, and its name says so", async () => {
    const inHeader = await ask({ kind: "svg", position: { line: 1, character: 0 } });
    expect(inHeader).toEqual(await ask({ kind: "svg" }));
    expect(inHeader.name).toBe("song.svg");
    const two = `${chart}\nsection Coda\nchords | 4m6 |\n\nsection Empty\nlands 1\n`;
    client.change(world.uri("song.plagal"), 2, [{ text: two }]);
    const at = (words: string) => ({
      line: two.slice(0, two.indexOf(words)).split("\n").length - 1,
      character: 3,
    });
    const coda = await ask({ kind: "svg", position: at("chords | 4m6"), key: "G" });
    expect(coda.name).toBe("song-Coda-G.svg");
    expect(atob(coda.bytes ?? "")).toContain("<title>Coda: Cm6.</title>");
    expect((await ask({ kind: "svg", position: at("lands") })).refused).toMatch(/section Empty has no bars/);
    expect((await ask({ kind: "midi", position: at("lands") })).name).toBe("song.mid");
    await expect(ask({ kind: "svg", position: { line: -1, character: 0 } })).rejects.toThrow(/position/);
  });

  test("says why there is none", async () => {
    expect((await ask({ kind: "midi", key: "H" })).refused).toMatch(/key/);
    client.change(world.uri("song.plagal"), 2, [{ text: "title Nothing yet\n" }]);
    expect((await ask({ kind: "svg" })).refused).toMatch(/no bars/);
    const uri = world.uri("other.plagal");
    const closed = await client.request("plagal/export", { textDocument: { uri }, kind: "midi" });
    expect(closed).toEqual({ notes: [], refused: "Open the chart first." });
    await expect(ask({ kind: "wav" as "midi" })).rejects.toThrow(/kind/);
    await expect(ask({ kind: "toString" as "midi" })).rejects.toThrow(/kind/);
  });
});
