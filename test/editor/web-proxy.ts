import { createReadStream, existsSync, statSync } from "node:fs";
import { createServer, type IncomingMessage, request, type ServerResponse } from "node:http";
import { connect } from "node:net";
import { extname, join } from "node:path";

export interface WebProxy {
  readonly port: number;
  end(): void;
}

const types: Readonly<Record<string, string>> = {
  ".js": "text/javascript",
  ".json": "application/json",
  ".svg": "image/svg+xml",
  ".md": "text/markdown",
};

/**
 * A server before the editor that turns it into one without any Node: extensions come from folders served here, the
 * opened folder lies in the browser's memory, and the workbench is told that there is no remote machine.
 */
export function startWebProxy(
  editorPort: number,
  extensions: ReadonlyMap<string, string>,
  generated: ReadonlyMap<string, string>,
  folderUri: { readonly scheme: string; readonly path: string },
  settings: Readonly<Record<string, unknown>>,
): Promise<WebProxy> {
  /** The page's settings with ours in them. */
  const configured = (html: string, host: string): string =>
    html.replace(
      /(<meta id="vscode-workbench-web-configuration" data-settings=")([^"]*)/,
      (_, before: string, escaped: string) => {
        const config = JSON.parse(escaped.replaceAll("&quot;", '"').replaceAll("&amp;", "&"));
        config.additionalBuiltinExtensions = [...extensions.keys()].map((path) => ({
          scheme: "http",
          authority: host,
          path: path.slice(0, -1),
        }));
        delete config.remoteAuthority;
        config.folderUri = { $mid: 1, ...folderUri };
        config.configurationDefaults = { ...config.configurationDefaults, ...settings };
        return before + JSON.stringify(config).replaceAll("&", "&amp;").replaceAll('"', "&quot;");
      },
    );

  const serveOwn = (path: string, answer: ServerResponse): boolean => {
    const text = generated.get(path);
    const prefix = [...extensions.keys()].find((it) => path.startsWith(it));
    if (text === undefined && prefix === undefined) return false;
    answer.setHeader("Content-Type", types[extname(path)] ?? "application/octet-stream");
    if (text !== undefined) {
      answer.end(text);
      return true;
    }
    const file = join(extensions.get(prefix as string) as string, path.slice((prefix as string).length));
    if (existsSync(file) && statSync(file).isFile()) createReadStream(file).pipe(answer);
    else answer.writeHead(404).end();
    return true;
  };

  const change = (path: string): ((text: string, host: string) => string) | undefined => {
    if (path === "/") return configured;
    if (/\/workbench\/workbench\.js$/.test(path)) {
      return (text) => text.replace("remoteAuthority:location.host", "remoteAuthority:void 0");
    }
    return undefined;
  };

  const pass = (asked: IncomingMessage, answer: ServerResponse): void => {
    const path = decodeURIComponent(new URL(asked.url ?? "/", "http://localhost").pathname);
    if (serveOwn(path, answer)) return;
    const changed = change(path);
    const headers = { ...asked.headers };
    if (changed !== undefined) {
      delete headers["accept-encoding"];
      delete headers["if-none-match"];
    }
    const options = { host: "127.0.0.1", port: editorPort, path: asked.url, method: asked.method, headers };
    const forwarded = request(options, (got) => {
      if (changed === undefined || got.statusCode !== 200) {
        answer.writeHead(got.statusCode ?? 502, got.headers);
        got.pipe(answer);
        return;
      }
      let text = "";
      got.setEncoding("utf8");
      got.on("data", (more) => (text += more));
      got.on("end", () => {
        const { "content-length": _, etag: __, ...kept } = got.headers;
        answer.writeHead(200, kept);
        answer.end(changed(text, asked.headers.host ?? ""));
      });
    });
    forwarded.on("error", () => answer.destroy());
    asked.pipe(forwarded);
  };

  const server = createServer(pass);
  server.on("upgrade", (asked, socket, head) => {
    const onward = connect(editorPort, "127.0.0.1", () => {
      const lines = Object.entries(asked.headers).map(([name, value]) => `${name}: ${value}`);
      onward.write(`${asked.method} ${asked.url} HTTP/1.1\r\n${lines.join("\r\n")}\r\n\r\n`);
      onward.write(head);
      onward.pipe(socket).pipe(onward);
    });
    for (const it of [onward, socket]) {
      it.on("error", () => {
        onward.destroy();
        socket.destroy();
      });
    }
  });
  return new Promise((resolve) => {
    server.listen(0, "127.0.0.1", () => {
      const address = server.address();
      const port = typeof address === "object" && address !== null ? address.port : 0;
      resolve({
        port,
        end() {
          server.closeAllConnections();
          server.close();
        },
      });
    });
  });
}
