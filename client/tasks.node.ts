import { relative } from "node:path";
import {
  CustomExecution,
  type Disposable,
  RelativePattern,
  Task,
  type TaskDefinition,
  TaskGroup,
  TaskScope,
  tasks,
  type WorkspaceFolder,
  workspace,
} from "vscode";
import { isFolder } from "../server/src/exports/output-path.js";
import type { ExportParams } from "../server/src/lsp/protocol.js";
import { chartsOf } from "./chart-files.js";
import type { Session } from "./session.js";
import { commandTerminal, type Job } from "./task-terminal.node.js";

interface CheckDefinition extends TaskDefinition {
  readonly task: "check";
  readonly charts?: string;
}

interface ExportDefinition extends TaskDefinition {
  readonly task: "export";
  readonly to?: ExportParams["kind"];
  readonly charts?: string;
  readonly key?: string;
  readonly keys?: "all";
  readonly out?: string;
  readonly force?: boolean;
}

const everyChart = "**/*.plagal";
const matchers = ["$plagal", "$plagal-hints"];
/** The longest call in characters; the least that an operating system takes is 32,767 (Windows). */
const longestCall = 20_000;

/** The tasks that run the command which comes with the extension over the charts of a folder. */
export function chartTasks(session: Session): Disposable {
  const command = session.context.asAbsolutePath("dist/plagal.cjs");
  return tasks.registerTaskProvider("plagal", {
    // An export is never offered unasked: it writes files.
    provideTasks: () =>
      (workspace.workspaceFolders ?? [])
        .filter(({ uri }) => uri.scheme === "file")
        .map((folder) => checkTask(command, { type: "plagal", task: "check" }, folder)),
    resolveTask(task) {
      const folder = typeof task.scope === "object" ? task.scope : workspace.workspaceFolders?.[0];
      const definition = task.definition as CheckDefinition | ExportDefinition;
      if (folder === undefined) return undefined;
      if (definition.task === "check") return checkTask(command, definition, folder);
      return definition.task === "export" ? exportTask(command, definition, folder) : undefined;
    },
  });
}

function checkTask(command: string, definition: CheckDefinition, folder: WorkspaceFolder): Task {
  const task = taskOf(definition, folder, "check charts", async () => {
    const files = await filesOf(folder, definition.charts);
    return {
      command,
      calls: [...batches(files)].map((batch) => ["check", ...batch]),
      refused: files.length === 0 ? noCharts(folder, definition.charts) : undefined,
    };
  });
  task.problemMatchers = matchers;
  task.group = TaskGroup.Test;
  task.detail = "Lists what doesn't add up in the charts of this folder";
  return task;
}

function exportTask(command: string, definition: ExportDefinition, folder: WorkspaceFolder): Task {
  const { to, charts, key, keys, out, force } = definition;
  const task = taskOf(definition, folder, "export charts", async () => {
    const files = await filesOf(folder, charts);
    // A place that ends in a slash is a folder: each file gets the name that it has everywhere.
    const place = out === undefined || isFolder(out) ? out : `${out}/`;
    const said = [
      ...(to === undefined ? [] : ["--to", to]),
      ...(key === undefined ? [] : ["--key", key]),
      ...(keys === undefined ? [] : ["--keys", keys]),
      ...(place === undefined ? [] : ["--out", place]),
      ...(force === true ? ["--force"] : []),
    ];
    const needsFolder = keys === "all" && out === undefined;
    return {
      command,
      calls: files.map((file) => ["export", file, ...said]),
      refused: needsFolder
        ? 'The task needs "out" beside "keys": the folder for the files in all keys.'
        : files.length === 0
          ? noCharts(folder, charts)
          : undefined,
    };
  });
  task.detail = "Makes a file of each chart of this folder";
  return task;
}

function taskOf(
  definition: TaskDefinition,
  folder: WorkspaceFolder,
  name: string,
  job: () => Promise<Omit<Job, "folder">>,
): Task {
  const run = new CustomExecution(async () =>
    commandTerminal(async () => ({ folder: folder.uri.fsPath, ...(await job()) })),
  );
  return new Task(definition, folder ?? TaskScope.Workspace, name, "plagal", run);
}

const noCharts = ({ name }: WorkspaceFolder, pattern = everyChart): string =>
  `There are no charts ${pattern} in ${name}.`;

/** Charts by their place in the folder, in order. */
async function filesOf(folder: WorkspaceFolder, pattern = everyChart): Promise<readonly string[]> {
  const found =
    pattern === everyChart
      ? await chartsOf([folder])
      : await workspace.findFiles(new RelativePattern(folder, pattern), "**/node_modules/**");
  return found.map(({ fsPath }) => relative(folder.uri.fsPath, fsPath)).sort();
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
