import { type Document, type Files, openDocument } from "../../server/src/document/document.js";
import { transposeChart } from "../../server/src/edits/transpose.js";
import { type PageAssets, type PageContent, type PageKey, page } from "../../server/src/exports/page.js";
import type { PageView } from "../../server/src/exports/page-data.js";
import { type Json, withDifferences } from "../../server/src/exports/page-keys.js";
import { applyEdits } from "../../server/src/text/edits.js";

const noAssets: PageAssets = { script: "", piano: {}, credit: "" };

/** The document of a chart moved to a tonic; `undefined` where it can't be moved. */
export function movedTo(document: Document, tonic: number, files?: Files): Document | undefined {
  const moved = transposeChart(document, { tonic, mode: undefined });
  return "edits" in moved
    ? openDocument("page.plagal", applyEdits(document.text, moved.edits), files)
    : undefined;
}

/** The page of a chart, without program and sound. */
export function pageOf(
  text: string,
  files?: Files,
): { readonly html: string; readonly content: PageContent } {
  const document = openDocument("page.plagal", text, files);
  const { text: html } = page(document.chart, {
    assets: noAssets,
    moved: (tonic) => movedTo(document, tonic, files)?.chart,
  });
  return { html, content: contentOf(html) };
}

/** What the program of a page reads. */
export function contentOf(html: string): PageContent {
  const found = /<script type="application\/json" id="content">(.*?)<\/script>/s.exec(html);
  return JSON.parse(found?.[1] ?? "") as PageContent;
}

/** The view in one of a page's keys. */
export const viewIn = ({ view }: PageContent, key: PageKey): PageView =>
  "view" in key
    ? key.view
    : (withDifferences(view as unknown as Json, key.differences) as unknown as PageView);
