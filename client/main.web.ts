import { type ExtensionContext, Uri } from "vscode";
import { BrowserMessageReader, BrowserMessageWriter, LanguageClient } from "vscode-languageclient/browser";
import { activate as activateIn } from "./activate.js";
import { openWorker } from "./open-worker.js";

let stop: (() => Promise<void>) | undefined;

/** The web: the server is a worker of the browser. */
export async function activate(context: ExtensionContext): Promise<void> {
  const script = Uri.joinPath(context.extensionUri, "dist", "server-web.js");
  let worker: Worker | undefined;
  stop = await activateIn(context, {
    readsFiles: true,
    connect: (options) =>
      new LanguageClient(
        "plagal",
        "Plagal",
        async () => {
          worker = await openWorker(script);
          // The worker itself won't do: the editor's own kind is not the `Worker` that the client asks for.
          return { reader: new BrowserMessageReader(worker), writer: new BrowserMessageWriter(worker) };
        },
        options,
      ),
    ended() {
      worker?.terminate();
      worker = undefined;
    },
    extras: () => [],
  });
}

export const deactivate = (): Promise<void> | undefined => stop?.();
