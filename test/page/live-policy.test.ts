import { readFileSync } from "node:fs";
import { afterAll, beforeAll, describe, expect, test, vi } from "vitest";
import type { Uri, Webview } from "vscode";
import { pageHtml } from "../../client/page-html.js";
import { usualLook } from "../../server/src/page/look.js";
import type { Look } from "../../server/src/page/messages.js";
import { sampleCharts } from "../support/sample-charts.js";
import { type BareBrowser, browserMissing, startBrowser } from "./bare-browser.js";
import { extensionUrl, openLive } from "./live-browser.js";

// Addresses of the extension's folder as texts.
vi.mock("vscode", () => ({
  Uri: { joinPath: (...parts: readonly string[]) => parts.join("/") },
}));

const missing = browserMissing();

/** The document that the editor gets, with its content policy, and with the build for its folder. */
const document = pageHtml(
  {
    cspSource: extensionUrl,
    asWebviewUri: (path: unknown) => String(path).replace("extension/dist", extensionUrl),
  } as unknown as Webview,
  "extension" as unknown as Uri,
);

describe.skipIf(missing !== undefined)("the page's own document with its policy, in a bare browser", () => {
  let browser: BareBrowser;
  beforeAll(async () => {
    browser = await startBrowser();
  });
  afterAll(() => browser.stop());

  test.each(["names", "keyboards", "staff"] as const)(
    "nothing that shows the hands as %s is against it",
    async (hands) => {
      const live = await openLive(browser, {
        document,
        kept: { look: { ...usualLook, hands } as Look },
        before: `
          window.violations = [];
          addEventListener("securitypolicyviolation", ({ effectiveDirective, blockedURI, sample }) =>
            violations.push([effectiveDirective, blockedURI, sample].join(" ")), true);`,
      });
      const { page } = live;
      const said: string[] = [];
      page.on("console", (message) => said.push(message.text()));
      expect(await page.locator("meta[http-equiv=Content-Security-Policy]").count()).toBe(1);
      for (const name of sampleCharts) {
        await live.show(readFileSync(`test/charts/${name}`, "utf8"), { uri: name, staff: hands === "staff" });
        await page.locator(".sheet:not([aria-busy])").waitFor();
        await page.locator("h1").first().waitFor();
      }
      if (hands === "staff") expect(await page.locator(".staff svg").count()).toBeGreaterThan(0);
      expect(await page.evaluate("violations")).toEqual([]);
      expect(said).toEqual([]);
      expect(live.errors).toEqual([]);
      await page.context().close();
    },
  );

  test("what is against it is told of", async () => {
    const live = await openLive(browser, { document });
    await live.page.evaluate(
      `new DOMParser().parseFromString("<svg xmlns='http://www.w3.org/2000/svg'><style>g{}</style></svg>", "image/svg+xml")`,
    );
    await vi.waitFor(() => expect(live.errors.join("\n")).toMatch(/style/));
    await live.page.context().close();
  });
});
