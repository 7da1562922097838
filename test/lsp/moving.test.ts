import { afterEach, beforeEach, describe, expect, test } from "vitest";
import type {
  ClientCapabilities,
  CodeAction,
  Range,
  TextDocumentEdit,
  TextEdit,
  WorkspaceEdit,
} from "vscode-languageserver";
import type { ClientRequests } from "../../server/src/lsp/protocol.js";
import { applyEdits } from "../../server/src/text/edits.js";
import type { ClientOptions, LspClient } from "../support/lsp-client.js";
import { type World, worlds } from "../support/lsp-worlds.js";

const chart = `title Low Tide
key Eb

section Verse
chords | 1 | Ab |
lead   | 1 - | 3 5 |
right  | 3+5 | 3+5 |

section Tag
chords | 67 | 1 |
`;
const other = "key C\nsection A\nchords | 1 |\n";

const resolving: ClientCapabilities = {
  workspace: { workspaceEdit: { documentChanges: true } },
  textDocument: { codeAction: { resolveSupport: { properties: ["edit"] } } },
};

/** A text after the edits of the protocol. */
function edited(text: string, edits: readonly TextEdit[]): string {
  const lines = text.split("\n");
  const offset = ({ line, character }: Range["start"]): number =>
    lines.slice(0, line).reduce((sum, it) => sum + it.length + 1, 0) + character;
  return applyEdits(
    text,
    edits.map(({ range, newText }) => ({
      span: { start: offset(range.start), end: offset(range.end) },
      text: newText,
    })),
  );
}

const whole = { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } };

describe.each(worlds)("%s", (_, makeWorld) => {
  let world: World;
  let client: LspClient;
  beforeEach(() => {
    world = makeWorld({ "song.plagal": chart, "b.plagal": other });
  });
  afterEach(async () => {
    await client.stop();
    world.leave();
  });
  const uri = (): string => world.uri("song.plagal");
  const start = async (options: ClientOptions = {}): Promise<void> => {
    client = await world.start(options);
    client.open(uri(), chart, 7);
  };
  const ask = <M extends keyof ClientRequests>(
    method: M,
    params: Omit<ClientRequests[M]["params"], "textDocument">,
  ): Promise<ClientRequests[M]["result"]> =>
    client.request(method, { textDocument: { uri: uri() }, ...params });
  const actions = (range: Range, only?: readonly string[]): Promise<CodeAction[]> =>
    client.request("textDocument/codeAction", {
      textDocument: { uri: uri() },
      range,
      context: { diagnostics: [], ...(only === undefined ? {} : { only }) },
    });
  const plain = (edit: WorkspaceEdit | undefined): string => edited(chart, edit?.changes?.[uri()] ?? []);
  const versioned = (edit: WorkspaceEdit | undefined): string => {
    const [change] = (edit?.documentChanges ?? []) as TextDocumentEdit[];
    expect(change?.textDocument).toEqual({ uri: uri(), version: 7 });
    return edited(chart, (change?.edits ?? []) as TextEdit[]);
  };
  const onWord = (word: string): Range => {
    const before = chart.slice(0, chart.indexOf(word)).split("\n");
    const at = { line: before.length - 1, character: before.at(-1)?.length ?? 0 };
    return { start: at, end: at };
  };

  test("an editor that can do nothing moves a chart by a code action", async () => {
    await start();
    const found = await actions(onWord("Eb"), ["refactor.move"]);
    const toG = found.find(({ title }) => title.includes("G major"));
    expect(found.filter(({ title }) => !title.includes("section")).length).toBeGreaterThanOrEqual(11);
    const moved = plain(toG?.edit);
    expect(moved).toMatch(/^key G.*\(original Eb\)$/m);
    expect(moved).toContain("| C |");
  });

  test("an action can be worked out when it is chosen", async () => {
    await start({ capabilities: resolving });
    const found = await actions(whole, ["refactor.move"]);
    expect(found.every(({ edit, data }) => edit === undefined && data !== undefined)).toBe(true);
    const chosen = await client.request<CodeAction>("codeAction/resolve", found[0]);
    expect(versioned(chosen.edit)).toMatch(/^key \S+.*\(original Eb\)$/m);
  });

  test("an action stays good while the editor asks for others", async () => {
    await start({ capabilities: resolving });
    const [first] = await actions(whole, ["refactor.move"]);
    await actions(onWord("67"));
    const chosen = await client.request<CodeAction>("codeAction/resolve", first);
    expect(versioned(chosen.edit)).toMatch(/^key \S+.*\(original Eb\)$/m);
  });

  test("an action that was offered before a change is refused", async () => {
    await start({ capabilities: resolving });
    const [first] = await actions(whole, ["refactor.move"]);
    client.change(uri(), 8, [{ text: other }]);
    await expect(client.request("codeAction/resolve", first)).rejects.toMatchObject({ code: -32801 });
  });

  test("an editor with a key picker gets its command in place of the moves", async () => {
    await start({ initializationOptions: { pickers: true } });
    const found = await actions(whole, ["refactor.move"]);
    expect(found).toMatchObject([
      {
        kind: "refactor.move",
        command: { command: "plagal.move", arguments: [{ textDocument: { uri: uri() } }] },
      },
    ]);
  });

  test("a quick fix names its problem and comes with its edit", async () => {
    await start();
    const found = await actions(onWord("67"), ["quickfix"]);
    const fix = found.find(({ title }) => title.includes("6:7"));
    expect(fix).toMatchObject({
      kind: "quickfix",
      isPreferred: true,
      diagnostics: [{ code: "run-together" }],
    });
    expect(plain(fix?.edit)).toContain("| 6:7 |");
  });

  test("all that can't be heard is fixed at once", async () => {
    await start();
    const [all] = await actions(whole, ["source.fixAll"]);
    expect(all?.kind).toBe("source.fixAll.plagal");
    expect(plain(all?.edit)).toContain("| 6:7 |");
  });

  test("what a chosen action has to tell is told after it, by the server's own command", async () => {
    await start();
    const said: string[] = [];
    client.connection.onNotification("window/showMessage", ({ message }: { readonly message: string }) => {
      said.push(message);
    });
    const run = (command: string, args: readonly unknown[]): Promise<unknown> =>
      client.request("workspace/executeCommand", { command, arguments: args });
    expect(await run("plagal.tell", ["Line 5: A4 stays.", 7])).toBe(null);
    expect(await run("plagal.tell", [])).toBe(null);
    await expect(run("other.command", [])).rejects.toThrow("other.command");
    expect(said).toEqual(["Line 5: A4 stays."]);
    expect(client.initialized.capabilities.executeCommandProvider).toEqual({ commands: ["plagal.tell"] });
  });

  test("the keys are told with the melody's range there, from the present one up", async () => {
    await start();
    const keys = await ask("plagal/keys", {});
    expect(keys).toHaveLength(12);
    expect(keys[0]).toMatchObject({
      key: "Eb",
      name: "E♭ major",
      present: true,
      lowest: "E♭4",
      highest: "B♭4",
    });
    expect(keys.slice(1).some(({ present }) => present)).toBe(false);
    const section = await ask("plagal/keys", { range: onWord("67"), section: true });
    expect(section[0]).not.toHaveProperty("lowest");
  });

  test("a chart, a section and a selection move", async () => {
    await start({ capabilities: resolving });
    const chartMoved = await ask("plagal/move", { key: "F" });
    expect(versioned(chartMoved.edit)).toMatch(/^key F.*\n[\s\S]*Bb/m);
    const section = await ask("plagal/move", { key: "F", range: onWord("67"), section: true });
    expect(versioned(section.edit)).toMatch(/key Eb\n[\s\S]*section Tag\n\s*key F/);
    const lines = { start: { line: 4, character: 0 }, end: { line: 6, character: 3 } };
    const selected = await ask("plagal/move", { key: "F", range: lines });
    expect(versioned(selected.edit)).toMatch(/section Verse\nkey F major\nchords \| 1 \| Bb \|/);
  });

  test("a key that is none is refused in words", async () => {
    await start();
    const { edit, refused } = await ask("plagal/move", { key: "H" });
    expect(edit).toBe(undefined);
    expect(refused).toMatch(/H/);
  });

  test("a move home is an answer without an edit", async () => {
    await start();
    expect(await ask("plagal/move", { key: "Eb" })).toEqual({ notes: [] });
  });

  test("all charts move, each with its own edit, and the progress is told", async () => {
    await start({ capabilities: resolving });
    const progress: unknown[] = [];
    client.connection.onNotification("$/progress", ({ value }: { readonly value: unknown }) => {
      progress.push(value);
    });
    const { charts } = await client.request<ClientRequests["plagal/moveAll"]["result"]>("plagal/moveAll", {
      key: "G",
      workDoneToken: "all",
    });
    expect(charts.map((it) => it.uri).sort()).toEqual([world.uri("b.plagal"), uri()].sort());
    const closed = charts.find((it) => it.uri !== uri());
    const [change] = (closed?.edit?.documentChanges ?? []) as TextDocumentEdit[];
    expect(change?.textDocument.version).toBe(null);
    expect(edited(other, (change?.edits ?? []) as TextEdit[])).toMatch(/^key G.*\(original C\)$/m);
    expect(progress.map((it) => (it as { kind: string }).kind)).toEqual(["begin", "report", "report", "end"]);
  });

  test("a chart is written as letters and as numbers", async () => {
    await start();
    const letters = await ask("plagal/rewrite", { to: "letters", rows: ["chords"] });
    expect(plain(letters.edit)).toContain("| Eb | Ab |");
    const numbers = await ask("plagal/rewrite", { to: "numbers" });
    expect(plain(numbers.edit)).toContain("| 1 | 4 |");
  });

  test("the practice form goes through twelve keys, shuffled alike by the same seed", async () => {
    await start();
    const fourths = await ask("plagal/practise", { order: "fourths", seed: 1 });
    expect(plain(fourths.edit).match(/\bin [A-G]/g)?.length).toBeGreaterThanOrEqual(11);
    const shuffled = await ask("plagal/practise", { order: "shuffled", seed: 5 });
    expect(await ask("plagal/practise", { order: "shuffled", seed: 5 })).toEqual(shuffled);
  });

  test("a new chart comes as a snippet in the key that is asked for", async () => {
    await start();
    const { text } = await client.request<{ text: string }>("plagal/newChart", { key: "Ab" });
    expect(text).toMatch(/key.*Ab/);
    expect(text).toContain("$0");
  });

  test("the status says key, tempo and problems", async () => {
    await start();
    expect(await client.request("plagal/status", { textDocument: { uri: uri() } })).toMatchObject({
      key: "E♭ major",
      tempo: "",
      errors: 0,
    });
  });
});
