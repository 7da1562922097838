import type { Chart } from "../chart/model.js";
import { encodeUtf8 } from "../text/utf8.js";
import type { ExportedFile } from "./exporters.js";
import { type PageAssets, type PageOptions, page } from "./page.js";

/** The page that plays itself: a bundle of its own, since it carries a program and the sound of a piano. */
export interface Pages {
  readonly page: (chart: Chart, options: Omit<PageOptions, "assets">) => ExportedFile;
}

/** Put in by the build. */
declare const PLAGAL_PAGE: PageAssets;

export const pages: Pages = {
  page(chart, options) {
    const { text, bars, cut } = page(chart, { ...options, assets: PLAGAL_PAGE });
    return { bytes: encodeUtf8(text), bars, cut };
  },
};
