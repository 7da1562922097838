import { spawnSync } from "node:child_process";
import { existsSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { root } from "../support/root.js";

/** Where the editor is installed, outside the project, so that a fresh copy of it finds it again. */
export const editorFolder = process.env.PLAGAL_EDITOR_DIR || join(tmpdir(), "plagal-editor");
export const chromiumPath = process.env.PLAGAL_CHROMIUM ?? "/usr/bin/chromium";

/**
 * Installs the editor where it isn't yet. A reason comes back where it can't be had here, so that the tests are
 * skipped with it; with PLAGAL_NO_SKIP set nothing may be skipped, and the reason is thrown.
 */
export function editorMissing(): string | undefined {
  const reason = reasonMissing();
  if (reason === undefined) return undefined;
  if (process.env.PLAGAL_NO_SKIP) throw new Error(reason);
  console.warn(`The tests in the real editor are skipped: ${reason}`);
  return reason;
}

function reasonMissing(): string | undefined {
  if (!existsSync(chromiumPath)) {
    return `there is no ${chromiumPath} (apt-get install -y --no-install-recommends chromium, or PLAGAL_CHROMIUM).`;
  }
  const { status, stderr, error } = spawnSync(join(root, "test/editor/install-editor.sh"), [editorFolder], {
    encoding: "utf8",
  });
  if (status === 0) return undefined;
  return `the editor can't be installed into ${editorFolder}: ${(error?.message ?? stderr).trim().slice(-600)}`;
}
