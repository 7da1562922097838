import { type ChildProcess, spawn } from "node:child_process";
import { EventEmitter, type Pseudoterminal } from "vscode";

/** What a task runs. */
export interface Job {
  /** The script of the command. */
  readonly command: string;
  /** Where it runs. */
  readonly folder: string;
  /** The arguments of each call. */
  readonly calls: ReadonlyArray<readonly string[]>;
  /** Why nothing is to be done; the calls are left then. */
  readonly refused?: string | undefined;
}

/** A terminal that makes one call after the other and ends with the gravest of their outcomes. */
export function commandTerminal(job: () => Promise<Job>): Pseudoterminal {
  const write = new EventEmitter<string>();
  const close = new EventEmitter<number>();
  let running: ChildProcess | undefined;
  let ended = false;

  const call = ({ command, folder }: Job, words: readonly string[]) =>
    new Promise<number>((resolve) => {
      // The editor's own program runs a script as Node does when it is told so.
      const env = { ...process.env, ELECTRON_RUN_AS_NODE: "1" };
      running = spawn(process.execPath, [command, ...words], { cwd: folder, env });
      for (const stream of [running.stdout, running.stderr]) {
        stream?.setEncoding("utf8").on("data", (text: string) => write.fire(text.replace(/\r?\n/g, "\r\n")));
      }
      running.on("error", ({ message }) => {
        write.fire(`The command can't be run: ${message}\r\n`);
        resolve(2);
      });
      running.on("close", (code) => resolve(code ?? 2));
    });
  const open = async () => {
    const it = await job();
    if (it.refused !== undefined) write.fire(`${it.refused}\r\n`);
    let worst = it.refused === undefined ? 0 : 2;
    for (const words of it.refused === undefined ? it.calls : [])
      if (!ended) worst = Math.max(worst, await call(it, words));
    close.fire(worst);
  };
  return {
    onDidWrite: write.event,
    onDidClose: close.event,
    open: () => void open(),
    close() {
      ended = true;
      running?.kill();
    },
  };
}
