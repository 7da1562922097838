import { realpathSync } from "node:fs";
import { createRequire } from "node:module";
import type { Exporters } from "../exports/exporters.js";

/** The exporters, a bundle of its own beside the command's, so that no call loads them but one that exports. */
export function loadExporters(): Exporters {
  const { exporters } = createRequire(realpathSync(process.argv[1] as string))("./exports.cjs") as {
    readonly exporters: Exporters;
  };
  return exporters;
}
