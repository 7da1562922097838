import { createRequire } from "node:module";
import { join } from "node:path";
import type { Pages } from "../../server/src/exports/pages.js";
import { root } from "./root.js";

/** The exporter of pages as it was built, with the program that the build puts into it. */
export const builtPages = (): Pages =>
  (createRequire(import.meta.url)(join(root, "dist/page.cjs")) as { readonly pages: Pages }).pages;
