import { type ChildProcess, spawn, spawnSync } from "node:child_process";
import { mkdirSync, writeFileSync } from "node:fs";
import { createServer } from "node:net";
import { join } from "node:path";
import { editorFolder } from "./editor-ready.js";

const entry = join(editorFolder, "node_modules/code-server/out/node/entry.js");

/** Settings that keep the workbench quiet; a test adds its own. */
const quiet: Readonly<Record<string, unknown>> = {
  "extensions.autoCheckUpdates": false,
  "extensions.autoUpdate": false,
  "git.enabled": false,
  "security.workspace.trust.enabled": false,
  "telemetry.telemetryLevel": "off",
  "workbench.startupEditor": "none",
  "workbench.tips.enabled": false,
};

export interface EditorProcess {
  readonly port: number;
  readonly log: () => string;
  end(): Promise<void>;
}

/** A port that nobody listens on. */
export const freePort = (): Promise<number> =>
  new Promise((resolve, reject) => {
    const server = createServer().on("error", reject);
    server.listen(0, "127.0.0.1", () => {
      const address = server.address();
      server.close(() => resolve(typeof address === "object" && address !== null ? address.port : 0));
    });
  });

/** Writes the settings of the profile in `home`; an editor that runs takes them over. */
export function writeSettings(home: string, settings: Readonly<Record<string, unknown>>): void {
  writeFileSync(join(home, "data/User/settings.json"), JSON.stringify({ ...quiet, ...settings }));
}

/** Starts the editor with a profile of its own in `home`, with this extension file installed where one is given. */
export async function startEditor(
  home: string,
  folder: string,
  settings: Readonly<Record<string, unknown>>,
  vsix: string | undefined,
): Promise<EditorProcess> {
  const data = join(home, "data");
  mkdirSync(join(data, "User"), { recursive: true });
  writeSettings(home, settings);
  const profile = [
    "--user-data-dir",
    data,
    "--extensions-dir",
    join(home, "extensions"),
    "--config",
    join(home, "config.yaml"),
    "--disable-telemetry",
    "--disable-update-check",
  ];
  writeFileSync(join(home, "config.yaml"), "auth: none\n");
  if (vsix !== undefined) {
    const done = spawnSync(process.execPath, [entry, ...profile, "--install-extension", vsix, "--force"], {
      encoding: "utf8",
    });
    if (done.status !== 0) throw new Error(`the extension was not installed: ${done.stdout}${done.stderr}`);
  }
  const port = await freePort();
  const address = `127.0.0.1:${port}`;
  // A group of its own: the editor has children, and all of them are to end with it.
  const child = spawn(
    process.execPath,
    [entry, ...profile, "--auth", "none", "--bind-addr", address, folder],
    {
      cwd: folder,
      detached: true,
      stdio: ["ignore", "pipe", "pipe"],
    },
  );
  let log = "";
  for (const stream of [child.stdout, child.stderr]) stream.on("data", (text) => (log += text));
  await listening(child, `http://${address}/healthz`, () => log);
  return { port, log: () => log, end: () => end(child) };
}

async function listening(child: ChildProcess, address: string, log: () => string): Promise<void> {
  for (let i = 0; i < 600; i++) {
    if (child.exitCode !== null) break;
    const answer = await fetch(address).catch(() => undefined);
    if (answer?.ok) return;
    await new Promise((resolve) => setTimeout(resolve, 100));
  }
  throw new Error(`the editor did not start:\n${log()}`);
}

async function end(child: ChildProcess): Promise<void> {
  if (child.pid === undefined || child.exitCode !== null) return;
  const ended = new Promise<void>((resolve) => child.once("exit", () => resolve()));
  process.kill(-child.pid, "SIGTERM");
  await Promise.race([ended, new Promise((resolve) => setTimeout(resolve, 5000))]);
}
