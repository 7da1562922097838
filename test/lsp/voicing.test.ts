import { afterEach, beforeEach, describe, expect, test } from "vitest";
import type {
  ClientCapabilities,
  CodeAction,
  Hover,
  MarkupContent,
  Position,
  Range,
  WorkspaceEdit,
} from "vscode-languageserver";
import { TextDocument, type TextEdit } from "vscode-languageserver-textdocument";
import type { ClientRequests } from "../../server/src/lsp/protocol.js";
import { type ClientOptions, type LspClient, positionIn } from "../support/lsp-client.js";
import { type World, worlds } from "../support/lsp-worlds.js";

const chart = `title Ferry at Dusk
key Eb

section Verse
chords  | 1maj7 | 6m7 |
left    | 1     | 1   |

section Tag
chords  | 2m7 | 5:7 |
`;

const resolving: ClientCapabilities = {
  textDocument: { codeAction: { resolveSupport: { properties: ["edit"] } }, hover: {} },
};

const wordIn = (text: string, word: string): Position => positionIn(text, text.indexOf(word));

describe.each(worlds)("%s", (_, makeWorld) => {
  let world: World;
  let client: LspClient;
  beforeEach(() => {
    world = makeWorld({ "song.plagal": chart });
  });
  afterEach(async () => {
    await client.stop();
    world.leave();
  });
  const uri = (): string => world.uri("song.plagal");
  const start = async (options: ClientOptions = {}): Promise<void> => {
    client = await world.start(options);
    client.open(uri(), chart, 1);
  };
  const ask = <M extends keyof ClientRequests>(
    method: M,
    params: Omit<ClientRequests[M]["params"], "textDocument">,
  ): Promise<ClientRequests[M]["result"]> =>
    client.request(method, { textDocument: { uri: uri() }, ...params });
  /** As an editor does it, by the protocol's own reading of positions. */
  const edited = ({ edit }: { readonly edit?: WorkspaceEdit }, text = chart): string =>
    TextDocument.applyEdits(
      TextDocument.create(uri(), "plagal", 1, text),
      (edit?.changes?.[uri()] ?? []) as TextEdit[],
    );
  const at = (word: string, text = chart): Range => {
    const position = wordIn(text, word);
    return { start: position, end: position };
  };
  const actions = (range: Range, only?: readonly string[]): Promise<CodeAction[]> =>
    client.request("textDocument/codeAction", {
      textDocument: { uri: uri() },
      range,
      context: { diagnostics: [], ...(only === undefined ? {} : { only }) },
    });
  const voicings = (all: readonly CodeAction[]): readonly string[] =>
    all.filter(({ kind }) => kind === "refactor.rewrite.voice").map(({ title }) => title);

  test("what can be voiced is told with its styles, those that suit first", async () => {
    await start();
    const choices = await ask("plagal/voicings", {});
    expect(choices.map(({ rows, name, fills, anew }) => [rows, name, fills, anew])).toEqual([
      ["both", "Both hands", "fills 6 empty bars", false],
      ["right", "Right hand", "fills 4 empty bars", false],
      ["left", "Left hand", "fills 2 empty bars", false],
    ]);
    for (const { styles } of choices) {
      expect(styles.map(({ suits }) => suits)).toEqual(styles.map((_, i) => i < 3));
      expect(styles.every(({ style, description }) => style !== "" && description.endsWith("."))).toBe(true);
    }
    const verse = await ask("plagal/voicings", { range: at("1maj7"), section: true });
    expect(verse.map(({ fills, anew }) => [fills, anew])[2]).toEqual([
      "no bar is empty: what is written there is written anew",
      true,
    ]);
  });

  test("the chart is voiced in one edit, new rows behind its last line too", async () => {
    await start();
    const answer = await ask("plagal/voice", { rows: "both", style: "close" });
    const text = edited(answer);
    expect(text.split("\n").map((line) => line.slice(0, 6).trim())).toEqual([
      ..."title |key Eb||sectio|chords|right|left||sectio|chords|right|left|"
        .split("|")
        .map((it) => it.trim()),
    ]);
    expect(text).toMatch(/^left {4}\| 1 +\| 1 +\|$/m);
    expect(text.match(/; voiced close$/gm)).toHaveLength(3);
  });

  test("a section and a selection are voiced alone", async () => {
    await start();
    const section = await ask("plagal/voice", {
      rows: "right",
      style: "shell",
      everyKey: true,
      range: at("2m7"),
      section: true,
    });
    expect(edited(section).match(/; voiced .*$/gm)).toEqual(["; voiced shell, every key"]);
    const [first, last] = [wordIn(chart, "1maj7"), wordIn(chart, "6m7")];
    const selected = await ask("plagal/voice", {
      rows: "right",
      style: "close",
      range: { start: first, end: last },
    });
    expect(edited(selected).split("section Tag")[1]).toBe(chart.split("section Tag")[1]);
  });

  test("a full row is refused in words, and written anew where that is asked for", async () => {
    await start();
    const place = { range: at("1maj7"), section: true };
    const full = await ask("plagal/voice", { rows: "left", style: "shell", ...place });
    expect(full.edit).toBe(undefined);
    expect(full.refused).toContain("The left hand has something written in every bar");
    const anew = await ask("plagal/voice", { rows: "left", style: "shell", anew: true, ...place });
    expect(edited(anew)).toMatch(/^left .*; voiced shell$/m);
  });

  test("what is no style and no row is refused", async () => {
    await start();
    const wrong = async (params: object): Promise<unknown> =>
      client
        .request("plagal/voice", { textDocument: { uri: uri() }, ...params })
        .catch((error) => error.code);
    expect(await wrong({ rows: "both", style: "grand" })).toBe(-32602);
    expect(await wrong({ rows: "both", style: { name: "close" } })).toBe(-32602);
    expect(await wrong({ rows: "bass", style: "close" })).toBe(-32602);
    expect(await wrong({ style: "close" })).toBe(-32602);
  });

  test("the next voicing comes with each request, and its hover says why", async () => {
    await start({ capabilities: resolving });
    const voiced = edited(await ask("plagal/voice", { rows: "both", style: "close" }));
    client.change(uri(), 2, [{ text: voiced }]);
    const right = wordIn(voiced, "right");
    const position = { line: right.line, character: voiced.split("\n")[right.line]?.indexOf("+") ?? 0 };
    const hover = await client.request<Hover>("textDocument/hover", {
      textDocument: { uri: uri() },
      position,
    });
    expect((hover.contents as MarkupContent).value).toContain("Voiced close: the best of its voicings here.");
    const next = await ask("plagal/nextVoicing", { position });
    expect(edited(next, voiced)).not.toBe(voiced);
    const none = await ask("plagal/nextVoicing", { position: wordIn(voiced, "1maj7") });
    expect(none.refused).toContain("Put the cursor on a stack");
  });

  test("the chart is revoiced for hands of another reach, and what is no reach is refused", async () => {
    await start();
    const wide = chart.replace("| 1     | 1   |", "| 1+>3  | 1   |");
    client.change(uri(), 2, [{ text: wide }]);
    const answer = await ask("plagal/revoice", { reach: { left: 8, right: 8 } });
    expect(edited(answer, wide)).toMatch(/^reach 8$/m);
    expect(answer.notes.join()).toContain("Line 7: ");
    for (const reach of [{}, { left: 3 }, { right: "8" }]) {
      const wrong = client.request("plagal/revoice", { textDocument: { uri: uri() }, reach });
      await expect(wrong).rejects.toMatchObject({ code: -32602 });
    }
  });

  test("an editor chooses a style by a code action that is worked out when it is chosen", async () => {
    await start({ capabilities: resolving });
    const found = await actions(at("1maj7"));
    expect(voicings(found)).toHaveLength(3);
    const close = found.find(({ title }) => title.endsWith("for the right hand: close"));
    const chosen = await client.request<CodeAction>("codeAction/resolve", close);
    expect(edited(chosen)).toMatch(/^right .*; voiced close$/m);
  });

  test("an editor that has all actions worked out is offered styles where it asks for them", async () => {
    await start();
    expect(voicings(await actions(at("1maj7")))).toEqual([]);
    const asked = await actions(at("1maj7"), ["refactor.rewrite.voice"]);
    expect(voicings(asked).length).toBeGreaterThan(8);
    expect(asked.every(({ edit }) => edit !== undefined)).toBe(true);
  });

  test("an editor with pickers gets its command behind the styles, with the section or the selection", async () => {
    await start({ capabilities: resolving, initializationOptions: { pickers: true } });
    const found = await actions(at("1maj7"));
    const another = found.findIndex(({ title }) => title === "Voice in another style…");
    expect(found[another - 1]?.kind).toBe("refactor.rewrite.voice");
    expect(found[another]?.command).toEqual({
      title: "Voice in another style…",
      command: "plagal.voice",
      arguments: [{ textDocument: { uri: uri() }, range: at("1maj7"), section: true }],
    });
    const range = { start: wordIn(chart, "left"), end: { line: 5, character: 12 } };
    const selected = (await actions(range)).find(({ title }) => title === "Voice in another style…");
    expect(selected?.command?.arguments).toEqual([{ textDocument: { uri: uri() }, range }]);
    expect(voicings(await actions(at("title")))).toEqual([]);
  });
});
