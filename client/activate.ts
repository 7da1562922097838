import {
  commands,
  type Diagnostic,
  type Disposable,
  DocumentHighlight,
  type ExtensionContext,
  Uri,
  window,
  workspace,
} from "vscode";
import type { BaseLanguageClient, LanguageClientOptions } from "vscode-languageclient";
import type {
  InitializationOptions,
  ReadAnswer,
  ReadParams,
  ScriptAnswer,
  ScriptParams,
} from "../server/src/lsp/protocol.js";
import { chartsOf } from "./chart-files.js";
import { commandList } from "./commands/list.js";
import { openPages } from "./pages.js";
import type { Session } from "./session.js";
import { showStatus } from "./status.js";
import { tellTheme, themeNow } from "./theme.js";

/** What differs between the desktop and the web. */
export interface Host {
  /** The server has no disk of its own and asks for files here. */
  readonly readsFiles: boolean;
  /** A client whose server is started anew each time that the client starts. */
  connect(options: LanguageClientOptions): BaseLanguageClient;
  /** Ends what the client leaves behind when it stops. */
  ended(): void;
  /** What only this host can offer. */
  extras(session: Session): readonly Disposable[];
}

/** Files larger than this are no charts, in bytes. */
const largest = 4_000_000;

/** Starts the extension: the commands first, so that each can be called at once, then the server. */
export async function activate(context: ExtensionContext, host: Host): Promise<() => Promise<void>> {
  const client = host.connect(optionsOf(context, host));
  const stop = async () => {
    await client.stop();
    host.ended();
  };
  const session: Session = {
    context,
    client,
    pages: openPages({ context, client }),
    async restart() {
      await stop();
      await client.start();
    },
  };
  const { subscriptions } = context;
  for (const { name, run } of commandList) {
    subscriptions.push(commands.registerCommand(name, (...args: unknown[]) => run(session, ...args)));
  }
  client.onRequest("plagal/read", ({ uri }: ReadParams) => readChart(session, uri));
  client.onRequest("plagal/charts", async () => {
    const found = await chartsOf(workspace.workspaceFolders ?? []);
    return { uris: found.map((uri) => client.code2ProtocolConverter.asUri(uri)) };
  });
  client.onRequest("plagal/script", ({ name }: ScriptParams) => readScript(session, name));
  subscriptions.push(session.pages, ...host.extras(session));
  await client.start();
  subscriptions.push(tellTheme(session));
  subscriptions.push(showStatus(session));
  return stop;
}

function optionsOf({ extensionUri }: ExtensionContext, { readsFiles }: Host): LanguageClientOptions {
  return {
    documentSelector: [{ language: "plagal" }],
    outputChannel: window.createOutputChannel("Plagal", { log: true }),
    // Asked for at each start, since the theme may be another by then.
    initializationOptions: (): InitializationOptions => ({
      pages: `${Uri.joinPath(extensionUri, "dist", "checks").toString()}/`,
      pickers: true,
      readsFiles,
      pictures: themeNow(),
    }),
    middleware: {
      // Where there is nothing to mark, the editor would mark every 3 of the chart for the 3 at the cursor.
      async provideDocumentHighlights(document, position, token, next) {
        const found = (await next(document, position, token)) ?? [];
        const word = document.getWordRangeAtPosition(position);
        return found.length > 0 || word === undefined ? found : [new DocumentHighlight(word)];
      },
      handleDiagnostics: (uri, diagnostics, next) => next(uri, diagnostics.map(openingItsPage)),
      async provideDiagnostics(document, previous, token, next) {
        const report = await next(document, previous, token);
        return report?.kind === "full" ? { ...report, items: report.items.map(openingItsPage) } : report;
      },
    },
  };
}

/** The code of a problem opens its page as a page, not as the text of a file. */
function openingItsPage(diagnostic: Diagnostic): Diagnostic {
  const { code } = diagnostic;
  if (typeof code !== "object") return diagnostic;
  const target = Uri.parse(`command:plagal.explain?${encodeURIComponent(JSON.stringify([code.value]))}`);
  diagnostic.code = { value: code.value, target };
  return diagnostic;
}

/** The text of a chart that another one uses; `null` where it can't be read. */
async function readChart(session: Session, uri: string): Promise<ReadAnswer> {
  try {
    const place = session.client.protocol2CodeConverter.asUri(uri);
    const { size } = await workspace.fs.stat(place);
    if (size > largest) return { text: null };
    return { text: new TextDecoder("utf-8", { fatal: true }).decode(await workspace.fs.readFile(place)) };
  } catch {
    return { text: null };
  }
}

const bundles: readonly string[] = ["exports", "sheets", "page", "live", "picture"];

/** The program of one of the extension's own bundles. */
async function readScript({ context }: Session, name: string): Promise<ScriptAnswer> {
  if (!bundles.includes(name)) throw new Error(`There is no bundle ${name}.`);
  const place = Uri.joinPath(context.extensionUri, "dist", `${name}.cjs`);
  return { text: new TextDecoder().decode(await workspace.fs.readFile(place)) };
}
