import { afterEach, describe, expect, test } from "vitest";
import type {
  ClientCapabilities,
  CompletionItem,
  CompletionList,
  Diagnostic,
  DocumentDiagnosticReport,
  DocumentLink,
  DocumentSymbol,
  FoldingRange,
  Hover,
  InlayHint,
  Location,
  LocationLink,
  MarkupContent,
  Range,
  SelectionRange,
  SemanticTokens,
  SemanticTokensDelta,
  TextEdit,
  WorkspaceEdit,
  WorkspaceSymbol,
} from "vscode-languageserver";
import { type ClientOptions, type LspClient, positionIn } from "../support/lsp-client.js";
import { type World, worlds } from "../support/lsp-worlds.js";

const chart = `title Low Tide
key Eb
tempo 72
use "tags.plagal"

section Verse
chords | 1 67 | 4:maj7 |
right  | 3+5 3 | 3+5+7 |
left   | 1 - | 1 |
form Verse Tag
`;
const tags = `key C
section Tag
chords | 1 |
right  | 3+5 |
`;

/** An editor that can do everything. */
const able: ClientCapabilities = {
  workspace: {
    workspaceEdit: { documentChanges: true },
    diagnostics: { refreshSupport: true },
    didChangeWatchedFiles: { dynamicRegistration: true },
    didChangeConfiguration: { dynamicRegistration: true },
    workspaceFolders: true,
  },
  textDocument: {
    diagnostic: {},
    hover: { contentFormat: ["markdown", "plaintext"] },
    definition: { linkSupport: true },
    documentSymbol: { hierarchicalDocumentSymbolSupport: true },
    rename: { prepareSupport: true },
    rangeFormatting: { rangesSupport: true },
  },
};

describe.each(worlds)("%s", (_, makeWorld) => {
  let world: World;
  let client: LspClient;
  const uri = (): string => world.uri("song.plagal");
  const textDocument = (): { uri: string } => ({ uri: uri() });

  async function opened(options: ClientOptions = {}, text = chart): Promise<LspClient> {
    world = makeWorld({ "song.plagal": text, "tags.plagal": tags });
    client = await world.start(options);
    client.open(uri(), text);
    return client;
  }

  /** The answer about a place: that of a word, or of an offset in it. */
  const at = <R>(method: string, word: string, further = 0, more: object = {}): Promise<R> =>
    client.request(method, {
      textDocument: textDocument(),
      position: positionIn(chart, chart.indexOf(word) + further),
      ...more,
    });
  const textIn = ({ start, end }: Range, text = chart): string => {
    const lines = text.split("\n");
    return start.line === end.line
      ? (lines[start.line] as string).slice(start.character, end.character)
      : `${(lines[start.line] as string).slice(start.character)}…`;
  };

  afterEach(async () => {
    expect(await client.stop()).toBeOneOf([0, undefined]);
    world.leave();
  });

  describe("for an editor that can do nothing", () => {
    test("announces what needs nothing of it, and asks it for nothing", async () => {
      const { initialized, asked } = await opened({ capabilities: {} });
      expect(initialized.serverInfo?.name).toBe("plagal");
      expect(initialized.capabilities).toMatchObject({
        positionEncoding: "utf-16",
        textDocumentSync: { openClose: true, change: 2 },
        hoverProvider: true,
        renameProvider: true,
      });
      expect(initialized.capabilities.diagnosticProvider).toBe(undefined);
      await client.diagnostics(uri(), 1);
      expect(asked.filter(({ method }) => !method.startsWith("plagal/"))).toEqual([]);
    });

    test("publishes problems with version, code, page and place", async () => {
      await opened();
      const found = await client.diagnostics(uri(), 1);
      const runTogether = found.find(({ code }) => code === "run-together") as Diagnostic;
      expect(textIn(runTogether.range)).toBe("67");
      expect(runTogether).toMatchObject({ severity: 4, source: "plagal" });
      expect(runTogether.codeDescription?.href).toMatch(
        /checks\/run-together\.md$|^pages:\/run-together\.md$/,
      );
      expect(found.map(({ code }) => code)).not.toContain("missing-file");
    });

    test("takes the problems back when the chart is closed", async () => {
      await opened();
      await client.diagnostics(uri(), 1);
      client.close(uri());
      await client.publish((it) => it.uri === uri() && it.diagnostics.length === 0);
    });

    test("says what sounds in plain text", async () => {
      await opened();
      const { contents, range } = await at<Hover>("textDocument/hover", "3+5 3");
      expect((contents as MarkupContent).kind).toBe("plaintext");
      expect((contents as MarkupContent).value).toContain("G3");
      expect(textIn(range as Range)).toBe("3");
    });

    test("gives the outline as a flat list", async () => {
      await opened();
      const found = await client.request<{ name: string; location: Location }[]>(
        "textDocument/documentSymbol",
        { textDocument: textDocument() },
      );
      expect(found.map(({ name }) => name)).toEqual(["Low Tide", "Verse"]);
      expect(found[1]?.location.uri).toBe(uri());
    });

    test("renames with plain edits, in the chart that is used too", async () => {
      await opened();
      const edit = await at<WorkspaceEdit>("textDocument/rename", "Tag\n", 1, { newName: "Amen" });
      expect(Object.keys(edit.changes ?? {}).sort()).toEqual([uri(), world.uri("tags.plagal")].sort());
    });
  });

  describe("for an editor that can do everything", () => {
    test("offers what can be written, and says more of the item that is looked at", async () => {
      await opened({
        capabilities: {
          textDocument: {
            completion: { completionItem: { snippetSupport: true, documentationFormat: ["markdown"] } },
          },
        },
      });
      const { items } = await at<CompletionList>("textDocument/completion", "4:maj7", 2);
      const labels = items.map(({ label }) => label);
      expect(labels.length).toBeGreaterThan(3);
      expect(items.every(({ textEdit }) => textEdit !== undefined)).toBe(true);
      const documented = items.find(({ data }) => data !== undefined) as CompletionItem;
      const { documentation } = await client.request<CompletionItem>("completionItem/resolve", documented);
      expect((documentation as MarkupContent).kind).toBe("markdown");
      expect(await client.request("completionItem/resolve", { label: "x" })).toEqual({ label: "x" });
    });

    test("offers the other charts where one is used", async () => {
      await opened();
      const { items } = await at<CompletionList>("textDocument/completion", "tags.plagal", 0);
      expect(items.map(({ label }) => label)).toContain("tags.plagal");
    });

    test("offers plain text where the editor knows no snippets", async () => {
      await opened();
      const { items } = await at<CompletionList>("textDocument/completion", "\n\nsection", 1);
      expect(items.length).toBeGreaterThan(3);
      for (const { insertTextFormat, textEdit } of items) {
        expect(insertTextFormat).toBe(undefined);
        expect(textEdit?.newText).not.toMatch(/\$\{|\$\d/);
      }
    });

    test("waits to be asked for problems, and says when nothing has changed", async () => {
      const { initialized } = await opened({ capabilities: able });
      expect(initialized.capabilities.diagnosticProvider).toMatchObject({ interFileDependencies: true });
      const pull = (previousResultId?: string): Promise<DocumentDiagnosticReport> =>
        client.request("textDocument/diagnostic", { textDocument: textDocument(), previousResultId });
      const first = await pull();
      if (first.kind !== "full") throw new Error(first.kind);
      expect(first.items.map(({ code }) => code)).toContain("run-together");
      expect(await pull(first.resultId)).toEqual({ kind: "unchanged", resultId: first.resultId });
      expect(client.published).toEqual([]);
    });

    test("asks to be told of files and settings", async () => {
      await opened({ capabilities: able });
      await at("textDocument/hover", "Verse");
      const { params } = client.asked.find(({ method }) => method === "client/registerCapability") ?? {};
      expect(JSON.stringify(params)).toContain("workspace/didChangeWatchedFiles");
      expect(JSON.stringify(params)).toContain("**/*.plagal");
      expect(JSON.stringify(params)).toContain("workspace/didChangeConfiguration");
    });

    test("says what sounds in Markdown", async () => {
      await opened({ capabilities: able });
      const { contents } = await at<Hover>("textDocument/hover", "3+5 3");
      expect((contents as MarkupContent).kind).toBe("markdown");
      expect((contents as MarkupContent).value).toMatch(/^\*\*/);
    });

    test("says nothing where nothing stands", async () => {
      await opened({ capabilities: able });
      expect(await at("textDocument/hover", "\n\nsection", 1)).toBe(null);
    });

    test("gives the outline with names inside what they name", async () => {
      await opened({ capabilities: able });
      const found = await client.request<DocumentSymbol[]>("textDocument/documentSymbol", {
        textDocument: textDocument(),
      });
      expect(found.map(({ name, selectionRange }) => [name, textIn(selectionRange)])).toEqual([
        ["Low Tide", "Low Tide"],
        ["Verse", "Verse"],
      ]);
    });

    test("finds songs and sections of all charts", async () => {
      await opened({ capabilities: able });
      const found = await client.request<WorkspaceSymbol[]>("workspace/symbol", { query: "ta" });
      expect(found.find(({ name }) => name === "Tag")?.location.uri).toBe(world.uri("tags.plagal"));
    });

    test("goes to a section of the chart that is used", async () => {
      await opened({ capabilities: able });
      const [found] = await at<LocationLink[]>("textDocument/definition", "Tag\n", 1);
      expect(found?.targetUri).toBe(world.uri("tags.plagal"));
      expect(textIn(found?.targetSelectionRange as Range, tags)).toBe("Tag");
      expect(textIn(found?.originSelectionRange as Range)).toBe("Tag");
    });

    test("finds where a section is played, and what belongs together", async () => {
      await opened({ capabilities: able });
      const places = await at<Location[]>("textDocument/references", "Verse", 1, {
        context: { includeDeclaration: true },
      });
      expect(places.map(({ range }) => range.start.line)).toEqual([5, 9]);
      const marked = await at<{ range: Range }[]>("textDocument/documentHighlight", "Verse", 1);
      expect(marked.map(({ range }) => textIn(range))).toEqual(["Verse", "Verse"]);
    });

    test("opens the chart of a use line", async () => {
      await opened({ capabilities: able });
      const links = await client.request<DocumentLink[]>("textDocument/documentLink", {
        textDocument: textDocument(),
      });
      expect(links.map(({ range, target }) => [textIn(range), target])).toEqual([
        ["tags.plagal", world.uri("tags.plagal")],
      ]);
    });

    test("renames with the version that the edit is for", async () => {
      await opened({ capabilities: able });
      const place = await at<{ range: Range; placeholder: string }>("textDocument/prepareRename", "Verse", 1);
      expect([textIn(place.range), place.placeholder]).toEqual(["Verse", "Verse"]);
      const edit = await at<WorkspaceEdit>("textDocument/rename", "Verse", 1, { newName: "Last Verse" });
      expect(edit.documentChanges).toMatchObject([{ textDocument: { uri: uri(), version: 1 } }]);
      expect(JSON.stringify(edit.documentChanges)).toContain('\\"Last Verse\\"');
    });

    test("refuses to rename what has no name, and says why", async () => {
      await opened({ capabilities: able });
      await expect(at("textDocument/prepareRename", "67", 1)).rejects.toThrow(/\w/);
    });

    test("folds, and selects from the tone to the whole chart", async () => {
      await opened({ capabilities: able });
      const folds = await client.request<FoldingRange[]>("textDocument/foldingRange", {
        textDocument: textDocument(),
      });
      expect(folds.map(({ startLine }) => startLine)).toContain(5);
      const [innermost] = await client.request<SelectionRange[]>("textDocument/selectionRange", {
        textDocument: textDocument(),
        positions: [positionIn(chart, chart.indexOf("5 3 |"))],
      });
      const widths: string[] = [];
      for (let it = innermost; it !== undefined; it = it.parent) widths.push(textIn(it.range));
      expect(widths.slice(0, 2)).toEqual(["5", "3+5"]);
      expect(widths.at(-1)).toBe("title Low Tide…");
    });

    test("formats a chart and parts of it", async () => {
      await opened({ capabilities: able });
      const options = { tabSize: 2, insertSpaces: true };
      const whole = await client.request<TextEdit[]>("textDocument/formatting", {
        textDocument: textDocument(),
        options,
      });
      expect(whole.length).toBeGreaterThan(0);
      const range = { start: { line: 1, character: 0 }, end: { line: 1, character: 3 } };
      const part = await client.request<TextEdit[]>("textDocument/rangeFormatting", {
        textDocument: textDocument(),
        range,
        options,
      });
      expect(new Set(part.map((edit) => edit.range.start.line))).toEqual(new Set([1]));
      const parts = await client.request<TextEdit[]>("textDocument/rangesFormatting", {
        textDocument: textDocument(),
        ranges: [range, range],
        options,
      });
      expect(parts).toEqual(part);
    });

    test("colours, and sends of a change only what it changed", async () => {
      await opened({ capabilities: able });
      const full = await client.request<SemanticTokens>("textDocument/semanticTokens/full", {
        textDocument: textDocument(),
      });
      expect(full.data.length % 5).toBe(0);
      const range = positionIn(chart, chart.indexOf("3 |"));
      client.change(uri(), 2, [{ range: { start: range, end: range }, text: "b" }]);
      const delta = await client.request<SemanticTokensDelta>("textDocument/semanticTokens/full/delta", {
        textDocument: textDocument(),
        previousResultId: full.resultId,
      });
      const after = [...full.data];
      for (const { start, deleteCount, data = [] } of delta.edits) after.splice(start, deleteCount, ...data);
      const fresh = await client.request<SemanticTokens>("textDocument/semanticTokens/full", {
        textDocument: textDocument(),
      });
      expect(after).toEqual(fresh.data);
      expect(delta.edits.flatMap(({ data = [] }) => data).length).toBeLessThan(fresh.data.length / 2);
      const part = await client.request<SemanticTokens>("textDocument/semanticTokens/range", {
        textDocument: textDocument(),
        range: { start: { line: 1, character: 0 }, end: { line: 2, character: 0 } },
      });
      expect(part.data.length).toBeLessThan(fresh.data.length);
    });

    test("writes note names between the lines where the settings ask for them", async () => {
      const settings = { plagal: { inlayHints: { notes: true } } };
      await opened({ capabilities: able, settings: () => settings.plagal });
      const range = { start: { line: 0, character: 0 }, end: { line: 20, character: 0 } };
      const ask = (): Promise<InlayHint[]> =>
        client.request("textDocument/inlayHint", { textDocument: textDocument(), range });
      // An answer before the settings have come goes by the defaults.
      await client.request("textDocument/diagnostic", { textDocument: textDocument() });
      expect((await ask()).length).toBeGreaterThan(0);
    });
  });

  test("counts columns in UTF-16 units, behind an emoji and a double flat too", async () => {
    const text =
      'title 🎹\nnote "𝄫 👍🏽"\nsection 🎵A\nchords | 1 |\nwords  | 🎶 xy |\nright  | 3+x |\nform "🎵A" Nope\n';
    await opened({}, text);
    const found = await client.diagnostics(uri(), 1);
    const nope = found.find(({ code }) => code === "unknown-section") as Diagnostic;
    expect(nope.range).toEqual({ start: { line: 6, character: 11 }, end: { line: 6, character: 15 } });
  });

  test("answers in the client's own way of writing a URI", async () => {
    await opened();
    const odd = uri().replace("song.plagal", "a%20song%2dtwo.plagal");
    client.open(odd, chart.replace('use "tags.plagal"\n', ""));
    expect((await client.publish((it) => it.uri === odd)).version).toBe(1);
    const other = odd.replace("%2d", "-");
    client.change(other, 2, [{ text: "key C\n" }]);
    expect(await client.publish((it) => it.version === 2)).toMatchObject({ uri: odd, diagnostics: [] });
  });
});
