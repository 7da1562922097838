import { FileType, RelativePattern, Uri, type WorkspaceFolder, workspace } from "vscode";

/** The most charts that are looked for in a folder, and the most folders that are looked into. */
const mostCharts = 10_000;
const mostFolders = 5_000;

const isChart = (name: string): boolean => name.endsWith(".plagal");
/** Folders that hold other people's files. */
const isForeign = (name: string): boolean => name.startsWith(".") || name === "node_modules";

/** Every chart below these folders. Where the editor has no search for their files, they are walked through. */
export async function chartsOf(folders: readonly WorkspaceFolder[]): Promise<readonly Uri[]> {
  const found = await Promise.all(
    folders.map(async (folder) => (await searched(folder)) ?? walked(folder.uri)),
  );
  return found.flat();
}

/** `undefined` where the search finds nothing or there is none. */
async function searched(folder: WorkspaceFolder): Promise<readonly Uri[] | undefined> {
  try {
    const pattern = new RelativePattern(folder, "**/*.plagal");
    const found = await workspace.findFiles(pattern, "**/node_modules/**", mostCharts);
    return found.length === 0 ? undefined : found;
  } catch {
    return undefined;
  }
}

async function walked(top: Uri): Promise<readonly Uri[]> {
  const charts: Uri[] = [];
  const waiting = [top];
  for (let i = 0; i < waiting.length && i < mostFolders && charts.length < mostCharts; i++) {
    const folder = waiting[i] as Uri;
    for (const [name, type] of await entriesOf(folder)) {
      if ((type & FileType.Directory) !== 0 && (type & FileType.SymbolicLink) === 0) {
        if (!isForeign(name)) waiting.push(Uri.joinPath(folder, name));
      } else if (isChart(name)) charts.push(Uri.joinPath(folder, name));
    }
  }
  return charts;
}

async function entriesOf(folder: Uri): Promise<ReadonlyArray<[string, FileType]>> {
  try {
    return await workspace.fs.readDirectory(folder);
  } catch {
    return [];
  }
}
