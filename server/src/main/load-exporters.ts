import { realpathSync } from "node:fs";
import { createRequire } from "node:module";
import type { Exporters } from "../exports/exporters.js";
import type { Pages } from "../exports/pages.js";
import type { Sheets } from "../exports/sheets.js";

/** A bundle of its own beside the command's, so that no call loads it but one that exports. */
const bundle = (name: string): unknown => createRequire(realpathSync(process.argv[1] as string))(name);

/** What makes files for the ear and for other programs. */
export const loadExporters = (): Exporters =>
  (bundle("./exports.cjs") as { readonly exporters: Exporters }).exporters;

/** What prints and draws. */
export const loadSheets = (): Sheets => (bundle("./sheets.cjs") as { readonly sheets: Sheets }).sheets;

/** What makes pages that play themselves. */
export const loadPages = (): Pages => (bundle("./page.cjs") as { readonly pages: Pages }).pages;
