import { spawnSync } from "node:child_process";
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join, resolve } from "node:path";

const program = resolve("dist/plagal.cjs");

export interface BuiltOutcome {
  readonly code: number | null;
  readonly out: string;
  readonly err: string;
  /** Paths of the files that the call made, changed or took away. */
  readonly touched: readonly string[];
}

/** Runs the built command in a folder with these files, and takes the folder away afterwards. */
export function built(
  args: readonly string[],
  files: Readonly<Record<string, string | Uint8Array>> = {},
  {
    input = "",
    folder = ".",
    prepare,
  }: {
    readonly input?: string | Uint8Array;
    /** Where it runs, inside the folder. */
    readonly folder?: string;
    readonly prepare?: (root: string) => void;
  } = {},
): BuiltOutcome {
  const root = mkdtempSync(join(tmpdir(), "plagal-"));
  try {
    for (const [path, content] of Object.entries(files)) {
      mkdirSync(dirname(join(root, path)), { recursive: true });
      writeFileSync(join(root, path), content);
    }
    prepare?.(root);
    const before = contents(root);
    const { status, stdout, stderr } = spawnSync(process.execPath, [program, ...args], {
      cwd: join(root, folder),
      input: typeof input === "string" ? Buffer.from(input) : input,
      encoding: "utf8",
      maxBuffer: 1 << 30,
      timeout: 100_000,
    });
    const after = contents(root);
    const paths = new Set([...before.keys(), ...after.keys()]);
    const touched = [...paths].filter((path) => before.get(path) !== after.get(path));
    return { code: status, out: stdout, err: stderr, touched };
  } finally {
    rmSync(root, { recursive: true });
  }
}

/** Every file below a folder, by path, as one comparable text each. */
function contents(folder: string): Map<string, string> {
  const found = new Map<string, string>();
  for (const name of readdirSync(folder, { recursive: true, encoding: "utf8" })) {
    const path = join(folder, name);
    if (statSync(path, { throwIfNoEntry: false })?.isFile()) found.set(name, readFileSync(path, "latin1"));
  }
  return found;
}
