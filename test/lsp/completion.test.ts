import { afterEach, describe, expect, test } from "vitest";
import type {
  ClientCapabilities,
  CompletionItem,
  CompletionList,
  MarkupContent,
} from "vscode-languageserver";
import { type ClientOptions, type LspClient, positionIn } from "../support/lsp-client.js";
import { type World, worlds } from "../support/lsp-worlds.js";

const chart = `title 🎹 Low Tide
key Eb

section Verse
chords | 1 | 5 |
right  | 3+5 | 3 |

form "🎵 V" 
`;

const able: ClientCapabilities = {
  textDocument: {
    completion: {
      completionItem: { snippetSupport: true, documentationFormat: ["markdown", "plaintext"] },
    },
  },
};

describe.each(worlds)("%s", (_, makeWorld) => {
  let world: World;
  let client: LspClient;
  const uri = (): string => world.uri("song.plagal");

  async function opened(options: ClientOptions): Promise<void> {
    world = makeWorld({ "song.plagal": chart });
    client = await world.start(options);
    client.open(uri(), chart);
  }
  const ask = (behind: string): Promise<CompletionList> =>
    client.request("textDocument/completion", {
      textDocument: { uri: uri() },
      position: positionIn(chart, chart.indexOf(behind) + behind.length),
    });
  const named = ({ items }: CompletionList, label: string): CompletionItem =>
    items.find((it) => it.label === label) as CompletionItem;

  afterEach(async () => {
    expect(await client.stop()).toBeOneOf([0, undefined]);
    world.leave();
  });

  test("offers plain text to an editor that can do nothing", async () => {
    await opened({ capabilities: {} });
    const words = await ask("3 |\n");
    expect(words.items.filter(({ insertTextFormat }) => insertTextFormat === 2)).toEqual([]);
    expect(named(words, "lead").textEdit).toMatchObject({ newText: "lead   | r | r |" });
    const chords = await ask("chords | 1 | 5");
    const dominant = named(chords, "5:7");
    expect(dominant.detail).toBe("B♭7: B♭ D F A♭");
    expect(dominant.documentation).toBe(undefined);
    const resolved = await client.request<CompletionItem>("completionItem/resolve", dominant);
    expect((resolved.documentation as MarkupContent).kind).toBe("plaintext");
    expect((resolved.documentation as MarkupContent).value).toContain("B♭7 (5:7), the 5");
  });

  test("offers snippets and Markdown to an editor that takes them", async () => {
    await opened({ capabilities: able });
    const words = await ask("3 |\n");
    expect(named(words, "lead")).toMatchObject({ insertTextFormat: 2 });
    expect(named(words, "lead").textEdit).toMatchObject({ newText: `lead   | \${1:r} | \${2:r} |` });
    const tones = await ask("3+5 | 3");
    const resolved = await client.request<CompletionItem>("completionItem/resolve", named(tones, "b7"));
    expect((resolved.documentation as MarkupContent).kind).toBe("markdown");
  });

  test("replaces columns in UTF-16 units", async () => {
    await opened({ capabilities: {} });
    const names = await ask('form "🎵 V');
    expect(named(names, "Verse").textEdit).toEqual({
      range: { start: { line: 7, character: 5 }, end: { line: 7, character: 11 } },
      newText: "Verse",
    });
  });

  test("leaves an item of an older list as it is", async () => {
    await opened({ capabilities: {} });
    const old = named(await ask("chords | 1 | 5"), "5:7");
    await ask("3+5 | 3");
    expect(await client.request("completionItem/resolve", old)).toEqual(old);
    expect(await client.request("completionItem/resolve", { label: "x", data: 7 })).toMatchObject({
      label: "x",
    });
  });
});
