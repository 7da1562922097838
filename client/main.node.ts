import type { ExtensionContext } from "vscode";
import { LanguageClient, type NodeModule, TransportKind } from "vscode-languageclient/node";
import { activate as activateIn } from "./activate.js";
import { serverArguments } from "./server-arguments.node.js";
import { chartTasks } from "./tasks.node.js";

let stop: (() => Promise<void>) | undefined;

/** The desktop: the server is a process of its own. */
export async function activate(context: ExtensionContext): Promise<void> {
  const server: NodeModule = {
    module: context.asAbsolutePath("dist/server.cjs"),
    transport: TransportKind.ipc,
    options: { execArgv: serverArguments() },
  };
  stop = await activateIn(context, {
    readsFiles: false,
    connect: (options) => new LanguageClient("plagal", "Plagal", server, options),
    ended() {},
    extras: (session) => [chartTasks(session)],
  });
}

export const deactivate = (): Promise<void> | undefined => stop?.();
