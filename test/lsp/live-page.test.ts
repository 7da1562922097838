import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { openDocument } from "../../server/src/document/document.js";
import { live } from "../../server/src/exports/live.js";
import { livePage } from "../../server/src/features/live-page.js";
import type { EditAnswer, PageAnswer } from "../../server/src/lsp/protocol.js";
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
  const ask = (more: object = {}, path = "song.plagal"): Promise<PageAnswer | null> =>
    client.request("plagal/page", { textDocument: { uri: world.uri(path) }, ...more });
  const setTempo = (more: object, path = "song.plagal"): Promise<EditAnswer> =>
    client.request("plagal/setTempo", { textDocument: { uri: world.uri(path) }, ...more });
  const wanted = (text: string, key?: string, used = bits): unknown => {
    const find = () => ({ kind: "text", path: "bits.plagal", text: used }) as const;
    return livePage(openDocument("song.plagal", text, { find }), key, live);
  };

  test("tells what the page shows, of which version, and in which keys it can be had", async () => {
    const answer = await ask();
    expect(answer?.version).toBe(1);
    expect(answer?.chart).toEqual(wanted(chart));
    expect(answer?.chart?.view.sections.map(({ name }) => name)).toEqual(["Verse", "Walk-in"]);
    expect(answer?.keys).toHaveLength(12);
    expect(answer?.keys[0]).toEqual({ key: "Eb", name: "E♭ major" });
    expect(answer?.refused).toBeUndefined();
  });

  test("with what a staff is engraved from only where it is asked for", async () => {
    expect((await ask())?.chart?.staff).toBeUndefined();
    const staff = (await ask({ staff: true }))?.chart?.staff;
    const find = () => ({ kind: "text", path: "bits.plagal", text: bits }) as const;
    const document = openDocument("song.plagal", chart, { find });
    expect(livePage(document, undefined, live, true)).toMatchObject({ staff });
    expect(staff?.map((pictures) => pictures.length)).toEqual([1, 1]);
    const [verse] = staff?.[0] ?? [];
    expect(verse?.xml).toMatch(/<score-partwise[\s\S]*<step>B<\/step>/);
    expect(verse?.chords.map(({ letters, numbers }) => [letters, numbers])).toEqual([
      ["E♭maj7", "1maj7"],
      ["Cm7", "6m7"],
    ]);
    await expect(ask({ staff: "yes" })).rejects.toThrow(/staff/);
  });

  test("tells it in another key, with the same places in the text", async () => {
    const home = await ask();
    const away = await ask({ key: "A" });
    expect(away?.chart).toEqual(wanted(chart, "A"));
    expect(away?.chart?.view.tonic).toBe(3);
    expect(away?.chart?.starts).toEqual(home?.chart?.starts);
    expect(away?.keys).toEqual(home?.keys);
  });

  test("follows what is typed, and what is typed in a chart that it uses", async () => {
    await ask();
    client.change(world.uri("song.plagal"), 2, [{ text: chart.replace("6m7", "4maj9") }]);
    const after = await ask();
    expect(after).toMatchObject({ version: 2, chart: wanted(chart.replace("6m7", "4maj9")) });
    const other = bits.replace("2m7", "4");
    client.open(world.uri("bits.plagal"), bits, 1);
    client.change(world.uri("bits.plagal"), 2, [{ text: other }]);
    expect((await ask())?.chart).toEqual(wanted(chart.replace("6m7", "4maj9"), undefined, other));
  });

  test("says why there is none", async () => {
    const refused = await ask({ key: "H" });
    expect(refused).toMatchObject({ version: 1, refused: expect.stringMatching(/key/) });
    expect(refused).not.toHaveProperty("chart");
    await expect(ask({ key: 3 })).rejects.toThrow(/key/);
    expect(await ask({}, "other.plagal")).toBeNull();
    client.close(world.uri("song.plagal"));
    expect(await ask()).toBeNull();
  });

  test("of a chart with nothing in it there is a page with nothing on it", async () => {
    client.change(world.uri("song.plagal"), 2, [{ text: "" }]);
    expect(await ask()).toMatchObject({ version: 2, chart: { bars: [], starts: [] } });
  });

  test("the tempo is one edit of its line", async () => {
    const uri = world.uri("song.plagal");
    const answer = await setTempo({ tempo: 96 });
    const edit = {
      range: { start: { line: 2, character: 6 }, end: { line: 2, character: 8 } },
      newText: "96",
    };
    expect(JSON.stringify(answer.edit)).toContain(uri);
    expect(JSON.stringify(answer.edit)).toContain(JSON.stringify(edit));
    expect(answer.notes).toEqual([]);
    expect((await setTempo({ tempo: 80 })).edit).toBeUndefined();
  });

  test("a section that keeps its own tempo is named, and a tempo that is none is turned away", async () => {
    client.change(world.uri("song.plagal"), 2, [{ text: chart.replace("chords  |", "tempo 60\nchords  |") }]);
    expect((await setTempo({ tempo: 96 })).notes).toEqual([
      "Verse has a tempo line of its own and keeps it.",
    ]);
    for (const tempo of [0, 1000, 72.5, "72", null])
      await expect(setTempo({ tempo }), `${tempo}`).rejects.toThrow(/1 to 999/);
    expect(await setTempo({ tempo: 96 }, "other.plagal")).toEqual({
      notes: [],
      refused: "Open the chart first.",
    });
  });
});
