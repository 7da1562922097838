import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { expect, test } from "vitest";
import { root } from "../support/root.js";

const version = spawnSync("nvim", ["--version"], { encoding: "utf8" });
const isThere = version.status === 0;
if (!isThere) {
  const why = "Neovim isn't installed (Debian: apt-get install neovim), so nothing is tried in it.";
  if (process.env.PLAGAL_NO_SKIP) throw new Error(why);
  console.log(why);
}

interface Found {
  readonly failed?: string;
  readonly diagnostics: readonly { readonly line: number; readonly column: number; readonly code: string }[];
  readonly hover: string;
  readonly actions: readonly string[];
  readonly moved: string;
  readonly undone: string;
}

const chart = `title Low Tide
key Eb
section Verse
chords | 67 | Ab |
right  | 3+5 | 3+5 |
`;

test.skipIf(!isThere)(
  "Neovim's own client shows problems, says what sounds, moves a chart and undoes it",
  () => {
    console.log(version.stdout.split("\n")[0]);
    const folder = mkdtempSync(join(tmpdir(), "plagal-neovim-"));
    try {
      const path = join(folder, "song.plagal");
      const out = join(folder, "found.json");
      writeFileSync(path, chart);
      const script = join(root, "test/editor/neovim.lua");
      const { stderr } = spawnSync("nvim", ["--headless", "--clean", "-n", "-c", `luafile ${script}`], {
        cwd: folder,
        encoding: "utf8",
        timeout: 110_000,
        env: {
          ...process.env,
          HOME: folder,
          PLAGAL_NODE: process.execPath,
          PLAGAL_PROGRAM: resolve("dist/plagal.cjs"),
          PLAGAL_CHART: path,
          PLAGAL_OUT: out,
          PLAGAL_KEY: "G major",
        },
      });
      const found = JSON.parse(readFileSync(out, "utf8")) as Found;
      expect(found.failed, stderr).toBe(undefined);
      expect(found.diagnostics).toContainEqual(
        expect.objectContaining({ code: "run-together", line: 3, column: 9 }),
      );
      expect(found.hover).toContain("C7");
      expect(found.actions.length).toBeGreaterThanOrEqual(11);
      expect(found.moved).toMatch(/^key G.*\(original Eb\)$/m);
      expect(found.moved).toContain("| 67 | C |");
      expect(`${found.undone}\n`).toBe(chart);
    } finally {
      rmSync(folder, { recursive: true });
    }
  },
);
