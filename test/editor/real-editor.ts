import { execFileSync } from "node:child_process";
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { type Browser, chromium, type Page } from "playwright-core";
import { root } from "../support/root.js";
import { unpack } from "../support/zip.js";
import { startEditor, writeSettings } from "./editor-process.js";
import { chromiumPath } from "./editor-ready.js";
import { startWebProxy } from "./web-proxy.js";
import { screen } from "./workbench.js";

/** `desktop`: the extension runs in Node. `web`: everything runs in the browser, as in an editor on a web page. */
export type EditorHost = "desktop" | "web";

export interface OpenedEditor {
  readonly page: Page;
  /** The folder of the charts on disk; on the web they are in memory. */
  readonly folder: string;
  /** What the page and the editor complained of. */
  readonly complaints: () => string;
  /** Sets the player's settings anew (desktop alone). */
  set(settings: Readonly<Record<string, unknown>>): void;
  /** Opens a chart of the folder in the same window. */
  open(file: string): Promise<void>;
  end(): Promise<void>;
}

const flags = [
  "--no-sandbox",
  "--disable-gpu",
  "--disable-quic",
  "--no-first-run",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
];

/** Packs the extension as it ships, of what is built, into a folder that goes with the editor; the path of its file. */
export function packed(): string {
  const folder = mkdtempSync(join(tmpdir(), "plagal-vsix-"));
  const file = join(folder, "plagal.vsix");
  execFileSync(process.execPath, ["server/build.mjs", "vsix", file], { cwd: root, stdio: "pipe" });
  return file;
}

/** Opens a folder with these charts in the real editor with the extension packed for it. */
export async function openEditor(
  host: EditorHost,
  vsix: string,
  charts: Readonly<Record<string, string>>,
  settings: Readonly<Record<string, unknown>> = {},
): Promise<OpenedEditor> {
  const home = mkdtempSync(join(tmpdir(), "plagal-editor-"));
  const folder = join(home, "charts");
  mkdirSync(folder);
  for (const [name, text] of Object.entries(charts)) {
    mkdirSync(dirname(join(folder, name)), { recursive: true });
    writeFileSync(join(folder, name), text);
  }
  const closers: Array<() => Promise<void> | void> = [];
  const end = async () => {
    for (const close of closers.reverse()) await close();
    for (const it of [home, dirname(vsix)]) rmSync(it, { recursive: true, force: true, maxRetries: 5 });
  };
  try {
    const editor = await startEditor(home, folder, settings, host === "desktop" ? vsix : undefined);
    closers.push(() => editor.end());
    let { port } = editor;
    if (host === "web") {
      const unpacked = join(home, "unpacked");
      unpack(vsix, unpacked);
      const extensions = new Map([
        ["/plagal/", join(unpacked, "extension")],
        ["/memory-files/", join(root, "test/editor/memory-files")],
      ]);
      const generated = new Map([["/memory-files/files.json", JSON.stringify(charts)]]);
      const proxy = await startWebProxy(
        port,
        extensions,
        generated,
        { scheme: "memfs", path: "/charts" },
        settings,
      );
      closers.push(() => proxy.end());
      port = proxy.port;
    }
    const browser: Browser = await chromium.launch({ executablePath: chromiumPath, args: flags });
    closers.push(() => browser.close());
    const page = await browser.newPage({ viewport: { width: 1280, height: 800 } });
    page.setDefaultTimeout(15_000);
    const complaints: string[] = [];
    page.on("console", (message) => {
      if (message.type() === "error") complaints.push(message.text());
    });
    page.on("pageerror", (error) => complaints.push(String(error)));
    const at = (file: string) =>
      host === "web" ? `memfs:/charts/${file}` : `vscode-remote://127.0.0.1:${port}${folder}/${file}`;
    const open = async (file: string) => {
      const payload = JSON.stringify([["openFile", at(file)]]);
      const place = host === "web" ? "memfs:/charts" : folder;
      const query = new URLSearchParams({ folder: place, payload });
      await page.goto(`http://127.0.0.1:${port}/?${query}`);
      await page.locator(`.tab[data-resource-name="${file}"]`).waitFor({ timeout: 60_000 });
      await page.locator(".monaco-editor .view-line").first().waitFor({ timeout: 60_000 });
    };
    return {
      page,
      folder,
      complaints: () => `${complaints.join("\n")}\n${editor.log()}`,
      set: (more) => writeSettings(home, more),
      open,
      end,
    };
  } catch (error) {
    await end();
    throw error;
  }
}

/** Where a test failed: the window as it was, under the test's name, and what the editor complained of. */
export async function tellFailure(
  editor: OpenedEditor,
  name: string,
  state: string | undefined,
): Promise<void> {
  if (state !== "fail") return;
  await screen(editor.page, `failed-${name.replace(/\W+/g, "-").slice(0, 60)}`);
  console.log(editor.complaints().slice(-3000));
}
