import { type ChildProcess, spawn } from "node:child_process";
import { relative } from "node:path";
import {
  CustomExecution,
  type Disposable,
  EventEmitter,
  type Pseudoterminal,
  RelativePattern,
  Task,
  type TaskDefinition,
  TaskGroup,
  TaskScope,
  tasks,
  type WorkspaceFolder,
  workspace,
} from "vscode";
import { chartsOf } from "./chart-files.js";
import type { Session } from "./session.js";

interface CheckDefinition extends TaskDefinition {
  readonly task: "check";
  readonly charts?: string;
}

const everyChart = "**/*.plagal";
const matchers = ["$plagal", "$plagal-hints"];
/** The longest call in characters; the least that an operating system takes is 32,767 (Windows). */
const longestCall = 20_000;

/** The task that checks the charts of a folder with the command that comes with the extension. */
export function checkTasks(session: Session): Disposable {
  const command = session.context.asAbsolutePath("dist/plagal.cjs");
  return tasks.registerTaskProvider("plagal", {
    provideTasks: () =>
      (workspace.workspaceFolders ?? [])
        .filter(({ uri }) => uri.scheme === "file")
        .map((folder) => checkTask(command, { type: "plagal", task: "check" }, folder)),
    resolveTask(task) {
      const folder = typeof task.scope === "object" ? task.scope : workspace.workspaceFolders?.[0];
      const definition = task.definition as CheckDefinition;
      return folder === undefined || definition.task !== "check"
        ? undefined
        : checkTask(command, definition, folder);
    },
  });
}

function checkTask(command: string, definition: CheckDefinition, folder: WorkspaceFolder): Task {
  const run = new CustomExecution(async () =>
    checkTerminal(command, folder, definition.charts ?? everyChart),
  );
  const task = new Task(definition, folder ?? TaskScope.Workspace, "check charts", "plagal", run, matchers);
  task.group = TaskGroup.Test;
  task.detail = "Lists what doesn't add up in the charts of this folder";
  return task;
}

/** A terminal that runs the command over the folder's charts, in as many calls as it takes. */
function checkTerminal(command: string, folder: WorkspaceFolder, pattern: string): Pseudoterminal {
  const write = new EventEmitter<string>();
  const close = new EventEmitter<number>();
  let running: ChildProcess | undefined;
  let ended = false;

  const call = (files: readonly string[]) =>
    new Promise<number>((resolve) => {
      // The editor's own program runs a script as Node does when it is told so.
      const env = { ...process.env, ELECTRON_RUN_AS_NODE: "1" };
      running = spawn(process.execPath, [command, "check", ...files], { cwd: folder.uri.fsPath, env });
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
    const found =
      pattern === everyChart
        ? await chartsOf([folder])
        : await workspace.findFiles(new RelativePattern(folder, pattern), "**/node_modules/**");
    const files = found.map(({ fsPath }) => relative(folder.uri.fsPath, fsPath)).sort();
    if (files.length === 0) write.fire(`There are no charts ${pattern} in ${folder.name}.\r\n`);
    let worst = 0;
    for (const batch of batches(files)) if (!ended) worst = Math.max(worst, await call(batch));
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

/** The files in groups that fit into one call each. */
function* batches(files: readonly string[]): Generator<readonly string[]> {
  let batch: string[] = [];
  let length = 0;
  for (const file of files) {
    if (batch.length > 0 && length + file.length > longestCall) {
      yield batch;
      [batch, length] = [[], 0];
    }
    batch.push(file);
    length += file.length + 3;
  }
  if (batch.length > 0) yield batch;
}
