import { existsSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { type Browser, type BrowserContextOptions, chromium, type Page } from "playwright-core";
import { openDocument } from "../../server/src/document/document.js";
import { chromiumPath } from "../editor/editor-ready.js";
import { builtPages } from "../support/built-pages.js";
import { movedTo } from "../support/page-of.js";

/** Why pages can't be opened here, so that their tests are skipped with it; with PLAGAL_NO_SKIP it is thrown. */
export function browserMissing(): string | undefined {
  if (existsSync(chromiumPath)) return undefined;
  const reason = `there is no ${chromiumPath} (apt-get install -y --no-install-recommends chromium, or PLAGAL_CHROMIUM).`;
  if (process.env.PLAGAL_NO_SKIP) throw new Error(reason);
  console.warn(`The tests of the page in a browser are skipped: ${reason}`);
  return reason;
}

/** The text of a chart's page as the built exporter makes it. */
export function pageText(chart: string): string {
  const document = openDocument("page.plagal", chart);
  const { bytes } = builtPages().page(document.chart, {
    moved: (tonic) => movedTo(document, tonic)?.chart,
  });
  return Buffer.from(bytes).toString("utf8");
}

export interface OpenPage {
  readonly page: Page;
  /** What it asked for beside itself. */
  readonly requests: readonly string[];
  /** What went wrong in it. */
  readonly errors: readonly string[];
}

export interface BareBrowser {
  /** Opens a page; the script `before` runs in it before anything of its own does, and `prepare` before it is read. */
  readonly open: (
    html: string,
    options?: BrowserContextOptions,
    before?: string,
    prepare?: (page: Page) => Promise<unknown>,
  ) => Promise<OpenPage>;
  readonly stop: () => Promise<void>;
}

/** A browser with nothing in it and no network, for pages from `file:`. */
export async function startBrowser(): Promise<BareBrowser> {
  const folder = mkdtempSync(join(tmpdir(), "plagal-page-"));
  // No sound before somebody has pressed something in the page; the other policies let an audio context run.
  const args = ["--no-sandbox", "--autoplay-policy=document-user-activation-required"];
  const browser: Browser = await chromium.launch({ executablePath: chromiumPath, args });
  let count = 0;
  return {
    async open(html, options = {}, before, prepare) {
      const path = join(folder, `harbour-${++count}.html`);
      writeFileSync(path, html);
      const context = await browser.newContext({ offline: true, ...options });
      const page = await context.newPage();
      const requests: string[] = [];
      const errors: string[] = [];
      page.on("request", (it) => {
        if (it.url() !== pathToFileURL(path).href) requests.push(it.url());
      });
      page.on("pageerror", (error) => errors.push(error.message));
      page.on("console", (message) => {
        if (message.type() === "error") errors.push(message.text());
      });
      if (before !== undefined) await page.addInitScript({ content: before });
      await prepare?.(page);
      await page.goto(pathToFileURL(path).href);
      return { page, requests, errors };
    },
    async stop() {
      await browser.close();
      rmSync(folder, { recursive: true });
    },
  };
}
