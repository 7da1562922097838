import { openPage } from "../../client/page-panel.js";
import type { Connected } from "../../client/session.js";
import { openDocument } from "../../server/src/document/document.js";
import { keyChoices } from "../../server/src/features/keys.js";
import { wholeChart } from "../../server/src/features/scope.js";
import { chartOfBars, type ExportRow } from "./exports-bench.js";
import { pageOf } from "./live-bench.js";
import { closed, document, panel, type } from "./vscode-double.js";

/** What the server's answer to `plagal/page` is on its way, with a place for the version. */
function answerOf(bars: number): string {
  const opened = openDocument("bench.plagal", chartOfBars(1400, bars));
  const keys = keyChoices(opened, wholeChart).map(({ key, name }) => ({ key, name }));
  return JSON.stringify({ version: 0, keys, chart: pageOf(opened) });
}

/** Milliseconds of the extension's thread for each character that is typed, and of the editor's own for what it hands on. */
async function typing(bars: number): Promise<{ readonly extension: number[]; readonly editor: number[] }> {
  const text = answerOf(bars);
  const client = {
    code2ProtocolConverter: { asUri: String },
    sendRequest: async () => ({ ...(JSON.parse(text) as object), version: document.version }),
    onDidChangeState: () => ({ dispose: () => undefined }),
  };
  const connected = { context: { extensionUri: document.uri }, client } as unknown as Connected;
  let shown: (text: string) => void = () => undefined;
  panel.posted = (kind, message) => {
    if (kind === "chart") shown(message);
  };
  const nextShown = (): Promise<string> => new Promise((resolve) => (shown = resolve));
  openPage(connected, panel as never, { uri: document.uri.toString(), pinned: false });
  const first = nextShown();
  panel.tell({ kind: "ready" });
  await first;
  const extension: number[] = [];
  const editor: number[] = [];
  for (let i = 0; i < 60; i++) {
    const next = nextShown();
    const start = performance.now();
    type();
    const message = await next;
    const handed = performance.now();
    structuredClone(JSON.parse(message));
    const done = performance.now();
    // The first few find a cold engine.
    if (i < 10) continue;
    extension.push(handed - start);
    editor.push(done - handed);
  }
  closed.fire(undefined);
  return { extension, editor };
}

/** A keystroke while the page is open, on the side of the editor. */
export async function measurePanel(): Promise<readonly ExportRow[]> {
  const short = await typing(32);
  const long = await typing(500);
  return [
    { name: "keystroke, extension's thread, 32 bars", milliseconds: short.extension, goal: 16 },
    { name: "  what the editor's thread hands on", milliseconds: short.editor, goal: 16 },
    { name: "keystroke, extension's thread, 500 bars", milliseconds: long.extension, goal: 100 },
    { name: "  what the editor's thread hands on", milliseconds: long.editor, goal: 100 },
  ];
}
