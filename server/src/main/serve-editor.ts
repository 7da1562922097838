import { realpathSync } from "node:fs";
import { createRequire } from "node:module";

/** Becomes the language server, which is a bundle of its own beside the command's, so that no other command loads it. */
export function serveEditor(): void {
  createRequire(realpathSync(process.argv[1] as string))("./server.cjs");
}
