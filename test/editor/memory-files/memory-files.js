// A folder in memory for the editor without any Node: `memfs:/charts` with the files that the test serves beside this
// script as files.json.
const vscode = require("vscode");

const top = "/charts";
const files = new Map();

const notFound = (uri) => vscode.FileSystemError.FileNotFound(uri);

const read = (uri) => {
  const bytes = files.get(uri.path);
  if (bytes === undefined) throw notFound(uri);
  return bytes;
};

exports.activate = async (context) => {
  const list = await (await fetch(vscode.Uri.joinPath(context.extensionUri, "files.json").toString())).json();
  for (const [name, text] of Object.entries(list))
    files.set(`${top}/${name}`, new TextEncoder().encode(text));
  const changed = new vscode.EventEmitter();
  const tell = (type, uri) => changed.fire([{ type, uri }]);
  const provider = {
    onDidChangeFile: changed.event,
    watch: () => new vscode.Disposable(() => {}),
    stat(uri) {
      if (uri.path === "/" || uri.path.replace(/\/$/, "") === top)
        return { type: 2, ctime: 0, mtime: 0, size: 0 };
      return { type: 1, ctime: 0, mtime: Date.now(), size: read(uri).length };
    },
    readDirectory({ path }) {
      const folder = path.replace(/\/?$/, "/");
      return [...files.keys()]
        .filter((it) => it.startsWith(folder))
        .map((it) => [it.slice(folder.length), 1]);
    },
    readFile: read,
    writeFile(uri, bytes) {
      const type = files.has(uri.path) ? vscode.FileChangeType.Changed : vscode.FileChangeType.Created;
      files.set(uri.path, bytes);
      tell(type, uri);
    },
    createDirectory() {},
    delete(uri) {
      files.delete(uri.path);
      tell(vscode.FileChangeType.Deleted, uri);
    },
    rename(from, to) {
      files.set(to.path, read(from));
      files.delete(from.path);
    },
  };
  context.subscriptions.push(
    vscode.workspace.registerFileSystemProvider("memfs", provider, { isCaseSensitive: true }),
  );
};
