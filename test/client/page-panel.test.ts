import { afterEach, beforeEach, describe, expect, test, vi } from "vitest";
import type { TextEditor, WebviewPanel } from "vscode";
import type { Connected } from "../../client/session.js";
import type { FromPage } from "../../server/src/page/messages.js";

/** What the editor tells whoever listens. */
type Listener = (event: unknown) => void;
const double = vi.hoisted(() => ({
  listeners: new Map<string, Listener>(),
  editors: [] as unknown[],
}));

vi.mock("vscode", () => {
  const listen = (name: string) => (run: Listener) => {
    double.listeners.set(name, run);
    return { dispose() {} };
  };
  /** A place is its offset: a text of one line is enough here. */
  class Range {
    constructor(
      readonly start: number,
      readonly end: number,
    ) {}
    contains(it: Range): boolean {
      return it.start >= this.start && it.end <= this.end;
    }
  }
  const uriOf = (text: string) => ({ path: text.replace(/^\w+:/, ""), toString: () => text });
  return {
    Range,
    Selection: Range,
    TextEditorRevealType: { InCenterIfOutsideViewport: 2 },
    ThemeColor: class {},
    ViewColumn: { One: 1, Two: 2, Beside: -2 },
    Uri: {
      parse: uriOf,
      joinPath: (_: unknown, ...path: readonly string[]) => uriOf(`memory:/${path.join("/")}`),
    },
    window: {
      createTextEditorDecorationType: () => "mark",
      get visibleTextEditors() {
        return double.editors;
      },
      activeTextEditor: undefined,
      onDidChangeTextEditorSelection: listen("selection"),
      onDidChangeTextEditorVisibleRanges: listen("scroll"),
    },
    workspace: { onDidChangeTextDocument: listen("change") },
  };
});

const { openPage } = await import("../../client/page-panel.js");
const { Range } = (await import("vscode")) as unknown as {
  readonly Range: new (start: number, end: number) => { readonly start: number; readonly end: number };
};

const uri = "memory:/long.plagal";
/** How many places are in sight, and how long a bar is. */
const [sight, bar] = [100, 10];

describe("the text while its page plays", () => {
  beforeEach(() => {
    vi.useFakeTimers();
  });
  afterEach(() => {
    vi.useRealTimers();
    double.editors.length = 0;
    double.listeners.clear();
  });

  /** An editor of the chart, seen from a place on; it moves as a real one does, and tells of it later. */
  function openText(name = uri) {
    const moves: number[] = [];
    const marks: (readonly (readonly [number, number])[])[] = [];
    const editor = {
      document: {
        uri: { toString: () => name },
        version: 1,
        languageId: "plagal",
        positionAt: (offset: number) => offset,
      },
      visibleRanges: [new Range(0, sight)],
      setDecorations: (_: unknown, ranges: readonly { readonly start: number; readonly end: number }[]) =>
        marks.push(ranges.map(({ start, end }) => [start, end] as const)),
      revealRange({ start }: { readonly start: number }) {
        moves.push(start);
        setTimeout(() => scroll(start - sight / 2), 20);
      },
    };
    function scroll(to: number): void {
      editor.visibleRanges = [new Range(to, to + sight)];
      double.listeners.get("scroll")?.({ textEditor: editor as unknown as TextEditor });
    }
    double.editors.push(editor);
    return { editor, moves, marks, scroll };
  }

  function openPlaying() {
    let tell: (message: FromPage) => void = () => undefined;
    const panel = {
      title: "",
      visible: true,
      viewColumn: 2,
      webview: {
        html: "",
        options: {},
        cspSource: "",
        asWebviewUri: (it: unknown) => it,
        postMessage: () => Promise.resolve(true),
        onDidReceiveMessage(run: typeof tell) {
          tell = run;
        },
      },
      onDidChangeViewState: () => undefined,
      onDidDispose: () => undefined,
    };
    const connected = { context: { extensionUri: "" }, client: { onDidChangeState: () => undefined } };
    openPage(connected as unknown as Connected, panel as unknown as WebviewPanel, { uri, pinned: false });
    return {
      /** The bar that starts at a place sounds, and lasts so many milliseconds. */
      sound(at: number, lasts = 1000): void {
        tell({ kind: "sounding", version: 1, spans: [[at, at + bar]] });
        vi.advanceTimersByTime(lasts);
      },
      stop: () => tell({ kind: "sounding", version: 1, spans: [] }),
    };
  }

  test("follows what sounds, and moves only where that isn't in sight", () => {
    const text = openText();
    const page = openPlaying();
    for (let at = 0; at < 300; at += bar) page.sound(at);
    expect(text.moves).toEqual([100, 150, 200, 250]);
    expect(text.marks.at(-1)).toEqual([[290, 300]]);
  });

  test("follows a form back to its start, and bars that are shorter than a move", () => {
    const text = openText();
    const page = openPlaying();
    for (const at of [0, 500, 0, 500]) page.sound(at);
    for (const at of [0, 500, 0, 500]) page.sound(at, 5);
    expect(text.moves).toEqual([500, 0, 500, 0, 500, 0, 500]);
  });

  test.each([
    ["far, so that what sounds is out of sight", 700],
    ["a little", 20],
  ])("somebody who scrolls %s is left there, with the marks going on", (_, to) => {
    const text = openText();
    const page = openPlaying();
    page.sound(0);
    text.scroll(to);
    for (let at = bar; at < 300; at += bar) page.sound(at);
    expect(text.moves).toEqual([]);
    expect(text.marks.at(-1)).toEqual([[290, 300]]);
  });

  test("so is somebody who scrolls away right after the text was moved", () => {
    const text = openText();
    const page = openPlaying();
    page.sound(500, 100);
    expect(text.moves).toEqual([500]);
    text.scroll(0);
    vi.advanceTimersByTime(500);
    page.sound(510);
    page.sound(900);
    expect(text.moves).toEqual([500]);
  });

  test("after it was stopped it follows again", () => {
    const text = openText();
    const page = openPlaying();
    page.sound(0);
    text.scroll(700);
    page.sound(bar);
    page.stop();
    expect(text.marks.at(-1)).toEqual([]);
    page.sound(2 * bar);
    expect(text.moves).toEqual([2 * bar]);
  });

  test("what is scrolled in another chart, and what is typed, stops nothing", () => {
    const text = openText();
    const other = openText("memory:/other.plagal");
    const page = openPlaying();
    page.sound(0);
    other.scroll(700);
    page.sound(500);
    expect(text.moves).toEqual([500]);
    expect(other.moves).toEqual([]);
    // Text above is gone: the bar that sounded stands elsewhere now.
    text.editor.visibleRanges = [new Range(0, sight)];
    double.listeners.get("change")?.({ document: text.editor.document, contentChanges: ["one"] });
    page.sound(300);
    expect(text.moves).toEqual([500, 300]);
  });
});
