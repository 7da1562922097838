import { describe, expect, test } from "vitest";
import type { ClientCapabilities, Diagnostic, DocumentDiagnosticReport } from "vscode-languageserver";
import { type ClientOptions, type LspClient, positionIn } from "../support/lsp-client.js";
import { type FakeMachine, fakeMachine, startInProcess } from "../support/lsp-in-process.js";
import { worlds } from "../support/lsp-worlds.js";

const folder = "file:///charts";
const song = `${folder}/song.plagal`;
const tags = `${folder}/tags.plagal`;
const using = `use "tags.plagal"\nsection A\nchords | 1 |\nform A Tag\n`;
const tagText = "section Tag\nchords | 1 |\n";

const watching: ClientCapabilities = { workspace: { didChangeWatchedFiles: { dynamicRegistration: true } } };
const pulling: ClientCapabilities = {
  textDocument: { diagnostic: {} },
  workspace: { ...watching.workspace, diagnostics: { refreshSupport: true } },
};

const codes = (found: readonly Diagnostic[]): unknown[] => found.map(({ code }) => code);
const told = (client: LspClient, uri: string, type = 2): void =>
  client.notify("workspace/didChangeWatchedFiles", { changes: [{ uri, type }] });
/** Waits for a publish with those codes. */
const shows = (client: LspClient, uri: string, wanted: readonly string[]) =>
  client.publish((it) => it.uri === uri && JSON.stringify(codes(it.diagnostics)) === JSON.stringify(wanted));

async function started(
  files: Readonly<Record<string, string>>,
  options: ClientOptions = {},
): Promise<{ readonly client: LspClient; readonly machine: FakeMachine }> {
  const machine = fakeMachine(files);
  return { machine, client: await startInProcess(machine, { folders: [folder], ...options }) };
}

/** Asks until the answer is that; every other answer is that of a moment before. */
async function pulls(client: LspClient, uri: string, wanted: readonly string[]): Promise<void> {
  await expect
    .poll(async () => {
      const report = await client.request<DocumentDiagnosticReport>("textDocument/diagnostic", {
        textDocument: { uri },
      });
      return report.kind === "full" ? codes(report.items) : report.kind;
    })
    .toEqual(wanted);
}

describe("a chart that uses another", () => {
  test("is not judged before the other has been read", async () => {
    const { client } = await started({ [tags]: tagText });
    client.open(song, using);
    expect(codes(await client.diagnostics(song, 1))).toEqual([]);
    expect(client.published).toHaveLength(1);
    await client.stop();
  });

  test("follows the other on the disk, where the editor tells of it", async () => {
    const { client, machine } = await started({}, { capabilities: watching });
    client.open(song, using);
    await shows(client, song, ["missing-file"]);
    machine.files.set(tags, tagText);
    told(client, tags, 1);
    await shows(client, song, []);
    machine.files.delete(tags);
    told(client, tags, 3);
    expect((await shows(client, song, ["missing-file"])).version).toBe(1);
    await client.stop();
  });

  test("follows it also where the editor doesn't, at the next change of its own", async () => {
    const { client, machine } = await started({ [tags]: tagText });
    client.open(song, using);
    await shows(client, song, []);
    machine.files.set(tags, "section Amen\nchords | 1 |\n");
    client.change(song, 2, [{ text: `${using}\n` }]);
    await client.publish((it) => it.version === 2 && codes(it.diagnostics).includes("unknown-section"));
    await client.stop();
  });

  test("follows it in the editor, and on the disk again when it is closed there", async () => {
    const { client } = await started({ [tags]: tagText }, { capabilities: watching });
    client.open(song, using);
    await shows(client, song, []);
    client.open(tags, "section Amen\nchords | 1 |\n");
    await shows(client, song, ["unknown-section"]);
    client.change(tags, 2, [{ text: "section Tag\nchords | 1 |\n; Tag is back\n" }]);
    await shows(client, song, []);
    client.change(tags, 3, [{ text: "" }]);
    await shows(client, song, ["unknown-section"]);
    client.close(tags);
    await shows(client, song, []);
    await client.stop();
  });

  test("makes an editor that asks for problems ask again", async () => {
    const { client, machine } = await started({ [tags]: tagText }, { capabilities: pulling });
    client.open(song, using);
    await pulls(client, song, []);
    const before = client.asked.length;
    machine.files.delete(tags);
    told(client, tags, 3);
    await pulls(client, song, ["missing-file"]);
    expect(client.asked.slice(before).map(({ method }) => method)).toEqual(["workspace/diagnostic/refresh"]);
    await client.stop();
  });

  test("may use one that uses it", async () => {
    const other = `use "song.plagal"\nsection Tag\nchords | 1 |\nplay A\n`;
    const { client } = await started({ [song]: using, [tags]: other }, { capabilities: watching });
    client.open(song, using);
    client.open(tags, other);
    await shows(client, song, []);
    await shows(client, tags, []);
    client.change(song, 2, [{ text: using.replace("section A", "section B").replace("form A", "form B") }]);
    await shows(client, tags, ["unknown-section"]);
    await shows(client, song, []);
    await client.stop();
  });

  test("never leads out of the workspace and its own folder", async () => {
    const outside = "file:///elsewhere/x.plagal";
    const { client, machine } = await started({ [outside]: tagText });
    client.open(song, using.replace("tags.plagal", "../elsewhere/x.plagal"));
    const [problem] = (await shows(client, song, ["missing-file"])).diagnostics;
    expect(problem?.message).toMatch(/outside/);
    expect(machine.reads).toEqual([]);
    client.open(song, using.replace("tags.plagal", "/elsewhere/x.plagal"), 2);
    await client.publish((it) => it.version === 2 && it.diagnostics.length > 0);
    expect(machine.reads).toEqual([]);
    await client.stop();
  });

  test("finds charts in any folder of a workspace that has several", async () => {
    const far = "file:///other/tags.plagal";
    const { client, machine } = await started({ [far]: tagText }, { folders: [folder, "file:///other"] });
    client.open(song, using.replace("tags.plagal", "../other/tags.plagal"));
    await shows(client, song, []);
    client.notify("workspace/didChangeWorkspaceFolders", {
      event: { added: [], removed: [{ uri: "file:///other", name: "other" }] },
    });
    await shows(client, song, ["missing-file"]);
    client.notify("workspace/didChangeWorkspaceFolders", {
      event: { added: [{ uri: "file:///other", name: "other" }], removed: [] },
    });
    await shows(client, song, []);
    expect(machine.reads).toContain(far);
    await client.stop();
  });
});

describe.each(worlds)("%s", (_, makeWorld) => {
  test("follows a used chart's file", async () => {
    const world = makeWorld({ "sub/tags.plagal": "section Amen\nchords | 1 |\n" });
    const client = await world.start({ capabilities: watching });
    const uri = world.uri("song.plagal");
    client.open(uri, using.replace("tags.plagal", "sub/tags.plagal"));
    await shows(client, uri, ["unknown-section"]);
    world.write("sub/tags.plagal", tagText);
    told(client, world.uri("sub/tags.plagal"));
    await shows(client, uri, []);
    await client.stop();
    world.leave();
  });
});

describe("settings", () => {
  const chart = "section A\nchords | 67 |\n";
  const off = { severities: { "run-together": "off" } };

  test("are asked for before the first problem is shown", async () => {
    const { client } = await started({}, { settings: () => off });
    client.open(song, chart);
    expect(codes(await client.diagnostics(song, 1))).toEqual([]);
    expect(client.published).toHaveLength(1);
    await client.stop();
  });

  test("are those of the chart's own folder", async () => {
    const { client } = await started(
      {},
      { folders: [folder, "file:///other"], settings: (scope) => (scope === "file:///other" ? off : null) },
    );
    client.open(song, chart);
    client.open("file:///other/b.plagal", chart);
    await shows(client, song, ["run-together"]);
    await shows(client, "file:///other/b.plagal", []);
    await client.stop();
  });

  test("count at once when they change", async () => {
    let settings: unknown = null;
    const { client } = await started({}, { settings: () => settings });
    client.open(song, chart);
    await shows(client, song, ["run-together"]);
    settings = { severities: { "run-together": "error" } };
    client.notify("workspace/didChangeConfiguration", { settings: null });
    expect((await client.publish((it) => it.diagnostics[0]?.severity === 1)).version).toBe(1);
    await client.stop();
  });

  test("that change make the editor ask for its hints again", async () => {
    let settings: unknown = null;
    const { client } = await started(
      {},
      { capabilities: { workspace: { inlayHint: { refreshSupport: true } } }, settings: () => settings },
    );
    const hints = (): Promise<readonly unknown[]> =>
      client.request("textDocument/inlayHint", {
        textDocument: { uri: song },
        range: { start: { line: 0, character: 0 }, end: { line: 9, character: 0 } },
      });
    client.open(song, "section A\nchords | 1 |\nright | 3 |\n");
    await shows(client, song, []);
    expect(await hints()).toEqual([]);
    settings = { inlayHints: { notes: true, letters: true } };
    client.notify("workspace/didChangeConfiguration", { settings: null });
    await expect
      .poll(() => client.asked.map(({ method }) => method))
      .toContain("workspace/inlayHint/refresh");
    expect(await hints()).toHaveLength(2);
    await client.stop();
  });

  test.each<[name: string, settings: unknown]>([
    ["the whole", { plagal: off }],
    ["the section", off],
  ])("are taken from a client that sends them unasked: %s", async (_, settings) => {
    const { client } = await started({});
    client.open(song, chart);
    await shows(client, song, ["run-together"]);
    client.notify("workspace/didChangeConfiguration", { settings });
    await shows(client, song, []);
    client.notify("workspace/didChangeConfiguration", { settings: null });
    await shows(client, song, ["run-together"]);
    await client.stop();
  });

  test("may come with the first message", async () => {
    const { client } = await started({}, { initializationOptions: { settings: { plagal: off } } });
    client.open(song, chart);
    expect(codes(await client.diagnostics(song, 1))).toEqual([]);
    await client.stop();
  });

  test("are not waited for without end", async () => {
    const { client, machine } = await started(
      {},
      {
        capabilities: { workspace: { configuration: true } },
        answers: { "workspace/configuration": () => new Promise(() => undefined) },
      },
    );
    client.open(song, chart);
    await client.request("textDocument/hover", {
      textDocument: { uri: song },
      position: { line: 0, character: 0 },
    });
    expect(client.published).toEqual([]);
    machine.advance(2000);
    await shows(client, song, ["run-together"]);
    await client.stop();
  });
});

describe("while a word is typed", () => {
  const chart = "section A\nchords | 1 | 4 |\nright | 3 | 3 |\n";
  const end = (text: string, word: string) => {
    const at = positionIn(text, text.indexOf(word) + word.length);
    return { start: at, end: at };
  };

  test("its problems wait for a pause", async () => {
    const { client, machine } = await started({});
    client.open(song, chart);
    await shows(client, song, []);
    client.change(song, 2, [{ range: end(chart, "right | 3"), text: "x" }]);
    expect(codes(await client.diagnostics(song, 2))).toEqual([]);
    machine.advance(599);
    await client.request("textDocument/hover", {
      textDocument: { uri: song },
      position: { line: 0, character: 0 },
    });
    expect(client.published.filter(({ version }) => version === 2)).toHaveLength(1);
    machine.advance(1);
    await client.publish((it) => it.version === 2 && codes(it.diagnostics).includes("unknown-tone"));
    await client.stop();
  });

  test("its problems come when something else is typed", async () => {
    const { client, machine } = await started({});
    client.open(song, chart);
    client.change(song, 2, [{ range: end(chart, "right | 3"), text: "x" }]);
    expect(codes(await client.diagnostics(song, 2))).toEqual([]);
    const later = chart.replace("right | 3", "right | 3x");
    client.change(song, 3, [{ range: end(later, "chords | 1 | 4"), text: "m" }]);
    expect(codes(await client.diagnostics(song, 3))).toContain("unknown-tone");
    expect(machine.waiting()).toBeLessThanOrEqual(1);
    await client.stop();
  });

  test("an editor that asks for problems is told to ask after the pause", async () => {
    const { client, machine } = await started({}, { capabilities: pulling });
    client.open(song, chart);
    client.change(song, 2, [{ range: end(chart, "right | 3"), text: "x" }]);
    await pulls(client, song, []);
    machine.advance(600);
    await pulls(client, song, ["unknown-tone"]);
    expect(client.asked.map(({ method }) => method)).toContain("workspace/diagnostic/refresh");
    await client.stop();
  });

  test("whole texts are compared, for a client that sends no parts", async () => {
    const { client, machine } = await started({});
    client.open(song, chart);
    client.change(song, 2, [{ text: chart.replace("right | 3", "right | 3x") }]);
    expect(codes(await client.diagnostics(song, 2))).toEqual([]);
    machine.advance(600);
    await shows(client, song, ["unknown-tone"]);
    await client.stop();
  });

  test("nothing is held back in a chart that has just been opened", async () => {
    const { client, machine } = await started({});
    client.open(song, chart.replace("right | 3", "right | 3x"));
    expect(codes(await client.diagnostics(song, 1))).toEqual(["unknown-tone"]);
    expect(machine.waiting()).toBe(0);
    await client.stop();
  });
});
