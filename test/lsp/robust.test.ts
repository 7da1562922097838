import { afterEach, describe, expect, test } from "vitest";
import type { Hover, MarkupContent } from "vscode-languageserver";
import { badCharts, chartOf } from "../support/bad-charts.js";
import {
  converse,
  type LspClient,
  positionIn,
  type Spawned,
  spawnServer,
  startClient,
} from "../support/lsp-client.js";

const uri = "file:///charts/song.plagal";
const chart = "key Eb\nsection A\nchords | 1 | 4 |\nright | 3+5 | 3+5 |\n";
const hoverAt = (line: number, character: number) => ({
  textDocument: { uri },
  position: { line, character },
});

/** The server still does its work: a new chart gets its problems. */
async function expectAlive(client: LspClient): Promise<void> {
  const fresh = `file:///charts/fresh-${Math.random()}.plagal`;
  client.open(fresh, "section A\nchords | 67 |\n");
  const found = await client.diagnostics(fresh, 1);
  expect(found.map(({ code }) => code)).toEqual(["run-together"]);
  client.close(fresh);
}

/** Error codes of JSON-RPC and LSP 3.18. */
const [serverNotInitialized, invalidRequest, methodNotFound, invalidParams, cancelled, contentModified] = [
  -32002, -32600, -32601, -32602, -32800, -32801,
];

describe("out of order", () => {
  let server: Spawned;
  afterEach(() => void server.child.kill());

  test("a request before initialize is refused, a notification dropped, and initialize still works", async () => {
    server = spawnServer();
    const { connection } = server;
    connection.listen();
    await connection.sendNotification("textDocument/didOpen", {
      textDocument: { uri, languageId: "plagal", version: 1, text: chart },
    });
    await expect(connection.sendRequest("textDocument/hover", hoverAt(3, 8))).rejects.toMatchObject({
      code: serverNotInitialized,
    });
    await expect(connection.sendRequest("shutdown")).rejects.toMatchObject({ code: serverNotInitialized });
    await expect(connection.sendRequest("x/y")).rejects.toMatchObject({ code: serverNotInitialized });
    const client = await converse(connection, { isListening: true }, () => server.ended);
    await expectAlive(client);
    await expect(connection.sendRequest("initialize", { capabilities: {} })).rejects.toMatchObject({
      code: invalidRequest,
    });
    await expectAlive(client);
    expect(await client.stop()).toBe(0);
  });

  test("a request after shutdown is refused, and exit ends the server in peace", async () => {
    server = spawnServer();
    const client = await converse(server.connection, {}, () => server.ended);
    client.open(uri, chart);
    await client.request("shutdown", undefined);
    await expect(client.request("textDocument/hover", hoverAt(3, 8))).rejects.toMatchObject({
      code: invalidRequest,
    });
    await expect(client.request("shutdown", undefined)).rejects.toMatchObject({ code: invalidRequest });
    client.change(uri, 2, [{ text: "" }]);
    client.notify("exit", undefined);
    expect(await server.ended).toBe(0);
  });

  test("exit without shutdown, or the end of the input, ends the server with 1", async () => {
    server = spawnServer();
    await converse(server.connection, {}, () => server.ended);
    await server.connection.sendNotification("exit");
    expect(await server.ended).toBe(1);
    server = spawnServer();
    await converse(server.connection, {}, () => server.ended);
    server.child.stdin?.end();
    expect(await server.ended).toBe(1);
  });
});

describe("malformed", () => {
  test("messages are refused or dropped, and the next one is answered", async () => {
    const client = await startClient();
    client.open(uri, chart);
    const bad: readonly unknown[] = [
      undefined,
      null,
      {},
      [],
      7,
      "x",
      { textDocument: null },
      { textDocument: { uri: 7 } },
      { textDocument: { uri }, position: null },
      { textDocument: { uri }, position: { line: "a", character: {} } },
      { textDocument: { uri }, position: { line: -1, character: -1 } },
      { textDocument: { uri }, range: { start: {}, end: null }, positions: 7, ranges: "x" },
      { textDocument: { uri }, context: 7, position: { line: 1e9, character: 1e9 }, newName: null, key: {} },
    ];
    const methods = `hover completion definition references documentHighlight documentLink documentSymbol
      foldingRange selectionRange rename prepareRename formatting rangeFormatting rangesFormatting
      semanticTokens/full semanticTokens/full/delta semanticTokens/range inlayHint codeAction diagnostic`
      .split(/\s+/)
      .map((it) => `textDocument/${it}`);
    const others = `workspace/symbol workspace/executeCommand codeAction/resolve completionItem/resolve
      plagal/keys plagal/move plagal/rewrite plagal/practise plagal/newChart plagal/status nope`.split(/\s+/);
    for (const method of [...methods, ...others]) {
      for (const params of bad) {
        const answer = await client.request(method, params).then(
          () => "answered",
          ({ code }: { readonly code: number }) => code,
        );
        expect(answer, `${method} ${JSON.stringify(params)}`).not.toBe(undefined);
      }
    }
    const notifications = `didOpen didChange didClose didSave`.split(" ").map((it) => `textDocument/${it}`);
    const further =
      "workspace/didChangeConfiguration workspace/didChangeWatchedFiles workspace/didChangeWorkspaceFolders initialized $/cancelRequest $/setTrace $/progress x/y";
    for (const method of [...notifications, ...further.split(" ")])
      for (const params of bad) client.notify(method, params);
    await expectAlive(client);
    // Among them was a sound one, which closed it.
    client.open(uri, chart, 2);
    const { contents } = await client.request<Hover>("textDocument/hover", hoverAt(3, 8));
    expect((contents as MarkupContent).value).toContain("G3");
    expect(await client.stop()).toBe(0);
  });

  test("a wrong position is told apart from a slip of the server's own", async () => {
    const client = await startClient();
    client.open(uri, chart);
    await expect(
      client.request("textDocument/hover", { textDocument: { uri }, position: { line: "1" } }),
    ).rejects.toMatchObject({ code: invalidParams });
    await expect(client.request("textDocument/hover", {})).rejects.toMatchObject({ code: invalidParams });
    await expect(client.request("textDocument/nope", {})).rejects.toMatchObject({ code: methodNotFound });
    await client.stop();
  });

  test("bytes that are no message don't stop the next one", async () => {
    const server = spawnServer();
    const client = await converse(server.connection, {}, () => server.ended);
    const raw = (text: string): void => void server.child.stdin?.write(text);
    const framed = (body: string): void => raw(`Content-Length: ${Buffer.byteLength(body)}\r\n\r\n${body}`);
    framed("{ this is no JSON");
    framed("null");
    framed("[]");
    framed('{"jsonrpc":"2.0"}');
    framed('{"jsonrpc":"2.0","id":{},"method":7}');
    framed('{"jsonrpc":"2.0","id":99,"result":1}');
    framed('{"jsonrpc":"2.0","method":"$/cancelRequest"}');
    framed('{"jsonrpc":"2.0","method":"$/cancelRequest","params":{"id":12345}}');
    await expectAlive(client);
    expect(await client.stop()).toBe(0);
  });
});

describe("charts", () => {
  test("that aren't open are left alone", async () => {
    const client = await startClient();
    client.change(uri, 2, [{ text: "x" }]);
    client.close(uri);
    client.notify("textDocument/didSave", { textDocument: { uri } });
    expect(await client.request("textDocument/hover", hoverAt(0, 0))).toBe(null);
    expect(await client.request("textDocument/formatting", { textDocument: { uri }, options: {} })).toBe(
      null,
    );
    expect(await client.request("plagal/move", { textDocument: { uri }, key: "C" })).toMatchObject({
      refused: expect.stringMatching(/open/i),
    });
    expect(client.published).toEqual([]);
    await expectAlive(client);
    await client.stop();
  });

  test("may be opened twice, and versions may go backward", async () => {
    const client = await startClient();
    client.open(uri, chart, 5);
    client.open(uri, "section A\nchords | 67 |\n", 3);
    expect((await client.diagnostics(uri, 3)).map(({ code }) => code)).toEqual(["run-together"]);
    client.change(uri, 1, [{ text: chart }]);
    expect(await client.diagnostics(uri, 1)).toEqual([]);
    await client.stop();
  });

  test("take 1,000 changes in a burst, and the hover behind them is of the last", async () => {
    const client = await startClient();
    client.open(uri, chart);
    await client.diagnostics(uri, 1);
    const before = client.published.length;
    const at = positionIn(chart, chart.indexOf("1 | 4"));
    const end = { line: at.line, character: at.character + 1 };
    for (let i = 2; i <= 1001; i++)
      client.change(uri, i, [{ range: { start: at, end }, text: i % 2 === 0 ? "2" : "1" }]);
    client.change(uri, 1002, [{ range: { start: at, end }, text: "5" }]);
    const { contents } = await client.request<Hover>("textDocument/hover", {
      textDocument: { uri },
      position: at,
    });
    expect((contents as MarkupContent).value).toMatch(/B♭/);
    await client.diagnostics(uri, 1002);
    expect(client.published.length - before).toBeLessThan(100);
    await expectAlive(client);
    await client.stop();
  });

  test("are judged once where the changes come faster than they can be judged", async () => {
    const client = await startClient();
    const long = chartOf(100_000);
    client.open(uri, long);
    await client.diagnostics(uri, 1);
    const before = client.published.length;
    const at = positionIn(long, long.indexOf("4maj7"));
    const end = { line: at.line, character: at.character + 1 };
    for (let i = 2; i <= 1001; i++)
      client.change(uri, i, [{ range: { start: at, end }, text: i % 2 === 0 ? "2" : "4" }]);
    await client.diagnostics(uri, 1001);
    expect(client.published.length - before).toBeLessThan(100);
    await client.stop();
  });

  test("are given no answer of an older version", async () => {
    const client = await startClient();
    client.open(uri, chartOf(200_000));
    const asked = Array.from({ length: 20 }, (_, i) => {
      client.change(uri, i + 2, [{ text: `${chart}; ${i}\n` }]);
      return client
        .request<{ readonly data: readonly number[] }>("textDocument/semanticTokens/full", {
          textDocument: { uri },
        })
        .then(
          () => "answered",
          ({ code }: { readonly code: number }) => code,
        );
    });
    const answers = await Promise.all(asked);
    expect(answers.at(-1)).toBe("answered");
    expect(new Set(answers)).toEqual(new Set([contentModified, "answered"]));
    await client.stop();
  });

  test("are asked about in vain where the question is taken back", async () => {
    const client = await startClient();
    client.open(uri, chartOf(200_000));
    const { connection } = client;
    const { CancellationTokenSource } = await import("vscode-jsonrpc/node");
    const source = new CancellationTokenSource();
    const asked = connection.sendRequest(
      "textDocument/semanticTokens/full",
      { textDocument: { uri } },
      source.token,
    );
    source.cancel();
    await expect(asked).rejects.toMatchObject({ code: cancelled });
    await expectAlive(client);
    await client.stop();
  });

  test("of bad input are opened, asked about and left", async () => {
    const client = await startClient();
    for (const [name, content] of badCharts) {
      const text = typeof content === "string" ? content : Buffer.from(content).toString("utf8");
      const its = `untitled:${encodeURIComponent(name)}`;
      const textDocument = { uri: its };
      client.open(its, text);
      const answers = await Promise.all([
        client.diagnostics(its, 1),
        client.request("textDocument/documentSymbol", { textDocument }),
        client.request("textDocument/foldingRange", { textDocument }),
        client.request("textDocument/semanticTokens/full", { textDocument }),
        client.request("textDocument/formatting", { textDocument, options: {} }),
        client.request("textDocument/hover", { textDocument, position: { line: 0, character: 9 } }),
        client.request("plagal/status", { textDocument }),
      ]);
      expect(Array.isArray(answers[0]), name).toBe(true);
      client.close(its);
    }
    await expectAlive(client);
    await client.stop();
  });

  test("of more than four million characters are not read, and that is said", async () => {
    const client = await startClient();
    client.open(uri, chartOf(5 * 1024 * 1024));
    const found = await client.diagnostics(uri, 1);
    expect(found.map(({ message }) => message)).toEqual([
      "This chart has more than 4194304 characters and is not read. Part it into several charts.",
    ]);
    client.change(uri, 2, [{ text: chart }]);
    expect(await client.diagnostics(uri, 2)).toEqual([]);
    await client.stop();
  });
});
