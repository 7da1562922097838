import { serveEditor } from "./serve-editor.js";

// The usual call of an editor, which waits for its start: nothing of the commands is loaded for it.
const [command, way, ...more] = process.argv.slice(2);
if (command === "lsp" && way === "--stdio" && more.length === 0) serveEditor();
else void import("./command.js");
