import { Uri, type Webview } from "vscode";

/** The folder that a page may load from, and nothing else. */
export const pageFolder = (extensionUri: Uri): Uri => Uri.joinPath(extensionUri, "dist");

const entities: Readonly<Record<string, string>> = { "&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;" };
const escaped = (text: string): string => text.replace(/[&<>"]/g, (sign) => entities[sign] as string);

/**
 * The document of a page: its program, which builds the rest. Nothing of a chart stands in it. Nothing may be loaded
 * but from the extension's own folder, and nothing runs but what lies there; the engraver is WebAssembly.
 */
export function pageHtml(webview: Webview, extensionUri: Uri): string {
  const folder = pageFolder(extensionUri);
  const source = webview.cspSource;
  const address = (...path: readonly string[]): string =>
    escaped(webview.asWebviewUri(Uri.joinPath(folder, ...path)).toString());
  const policy = [
    "default-src 'none'",
    `script-src ${source} 'wasm-unsafe-eval'`,
    `style-src ${source}`,
    `connect-src ${source}`,
    "base-uri 'none'",
    "form-action 'none'",
  ].join("; ");
  return [
    "<!DOCTYPE html>",
    '<html lang="en">',
    "<head>",
    '<meta charset="utf-8">',
    `<meta http-equiv="Content-Security-Policy" content="${escaped(policy)}">`,
    '<meta name="viewport" content="width=device-width, initial-scale=1">',
    "<title>Chart</title>",
    "</head>",
    `<body data-piano="${address("piano")}" data-engraver="${address("verovio-toolkit-wasm.js")}">`,
    `<script src="${address("live-page.js")}"></script>`,
    "</body>",
    "</html>",
  ].join("\n");
}
